import { existsSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { describe, expect, it } from 'vitest';

const here = import.meta.dirname;
const SOURCE_TEXT = join(here, '../live/source-text.ts');

/** What a module imports when it is loaded, itself included. */
const closure = (file: string, seen = new Set<string>()): ReadonlySet<string> => {
  if (seen.has(file)) return seen;
  seen.add(file);
  for (const [, path = ''] of readFileSync(file, 'utf8').matchAll(
    /^(?:import|\}) .*from '(\.[^']+\.tsx?)';$/gm,
  )) {
    const imported = join(dirname(file), path);
    if (existsSync(imported)) closure(imported, seen);
  }
  return seen;
};

const screens = [
  ...readFileSync(join(here, 'screens.ts'), 'utf8').matchAll(
    /screen\(\s*\(\) => import\('([^']+)'\),?\s*(\[[^\]]*\])?/g,
  ),
].map(([, path = '', parts = '']) => ({ path, parts }));

describe('the words that a screen loads', () => {
  it('hold the sources of figures wherever a screen names one', () => {
    const naming = screens.filter(({ path }) => closure(join(here, path)).has(SOURCE_TEXT));
    expect(naming.length).toBeGreaterThan(5);
    expect(naming.filter(({ parts }) => !parts.includes("'sources'")).map(({ path }) => path)).toEqual([]);
  });
});
