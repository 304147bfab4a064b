import { existsSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { languageFiles } from '../../words/load-languages.ts';
import { isWallWord, WHOLE_GROUPS } from './wall-words.ts';

const IMPORT = /^import (?!type\b)(?:[^;']*? from )?'(\.[^']+\.tsx?)';/gm;

/** The source of a module and of all that it imports at once, types left out. */
const withImports = (path: string, found = new Map<string, string>()): ReadonlyMap<string, string> => {
  if (found.has(path) || !existsSync(path)) return found;
  const text = readFileSync(path, 'utf8');
  found.set(path, text);
  for (const [, imported = ''] of text.matchAll(IMPORT)) withImports(join(dirname(path), imported), found);
  return found;
};

const root = import.meta.dirname;
const modules = withImports(
  join(root, 'screens', 'wall', 'wall.tsx'),
  new Map(withImports(join(root, 'app', 'main.tsx'))),
);
const source = [...modules.values()].join('\n');
const { rules, ...files } = languageFiles('en');
const screenKeys = Object.values(files).flatMap((messages) => Object.keys(messages ?? {}));
const isNamed = (key: string): boolean => source.includes(`'${key}'`) || source.includes(`="${key}"`);

describe('the words of the wall', () => {
  it('are looked for in every module that the wall loads', () => {
    const names = [...modules.keys()].map((path) => path.slice(root.length + 1));
    expect(names).toEqual(
      expect.arrayContaining(['app/frame.tsx', 'screens/wall/wall-facts.tsx', 'live/state-text.ts']),
    );
  });
  it('hold every key that a module of the wall names', () => {
    expect(screenKeys.filter((key) => isNamed(key) && !isWallWord(key))).toEqual([]);
  });
  it('hold every group of which a module of the wall builds the keys', () => {
    const groups = [...source.matchAll(/\b(?:word|named)\('([\w-]+)'/g)].map(([, group = '']) => group);
    // The full name of a wax is shown in lists and settings; the wall shows the short one.
    expect([...new Set(groups)].filter((group) => group !== 'wax' && !WHOLE_GROUPS.includes(group))).toEqual(
      [],
    );
  });
  it('hold the short name of every rule, and what to do first as short as a wall needs it', () => {
    const ruleKeys = Object.keys(rules ?? {}).filter((key) => isWallWord(key));
    expect(ruleKeys).toEqual(expect.arrayContaining(['rule.fire-risk.short', 'rule.fire-risk.brief']));
    expect(ruleKeys.every((key) => /\.(short|brief)$/.test(key))).toBe(true);
  });
  it('hold nothing that the wall does not show', () => {
    const unused = screenKeys.filter(
      (key) => isWallWord(key) && !isNamed(key) && !WHOLE_GROUPS.includes(key.split('.')[0] ?? ''),
    );
    expect(unused).toEqual([]);
  });
});
