// Patterns that texts are held against, so that none takes time out of proportion to the length of the text: one message or
// one request, signed in or not, could hold up the whole watch.

import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parseSync } from '@swc/core';
import { analyse } from 'scslre';
import { describe, expect, it } from 'vitest';
import { PRODUCT } from '../../scripts/ready.mjs';
import { LAB_FILE_SCHEMA } from '../../lab/lab-file/lab-file-schema.ts';
import { serverForTests } from '../server-for-tests.ts';

const root = join(import.meta.dirname, '../..');
// Simulators read nothing from outside.
const FOLDERS = PRODUCT.filter((folder) => folder !== 'simulators');

const sources = execFileSync('git', ['ls-files', '--cached', '--others', '--exclude-standard', ...FOLDERS], {
  cwd: root,
  encoding: 'utf8',
})
  .split('\n')
  .filter(
    (file) => /\.tsx?$/.test(file) && !/\.test\.tsx?$/.test(file) && !file.startsWith('dashboard/web/'),
  );
/** Files whose patterns meet short texts alone, with what bounds them. */
const SHORT_TEXTS: Readonly<Record<string, string>> = {
  'dashboard/server/sign-in/naming.ts': 'a name of at most 80 characters',
  'dashboard/server/sign-in/password.ts': 'a password of at most 1024 characters',
  'group/settings.ts': 'a setting of whoever starts the program',
};

interface Literal {
  readonly pattern: string;
  readonly flags: string;
}
const isLiteral = (node: object): node is Literal => 'type' in node && node.type === 'RegExpLiteral';
/** Every regular expression of a syntax tree. */
const literalsOf = (node: unknown): readonly Literal[] => {
  if (typeof node !== 'object' || node === null) return [];
  return isLiteral(node) ? [node] : Object.values(node).flatMap(literalsOf);
};
const literalsIn = (file: string): readonly Literal[] =>
  literalsOf(
    parseSync(readFileSync(join(root, file), 'utf8'), { syntax: 'typescript', tsx: file.endsWith('x') }),
  );
/** Of every text in a description, however deep. */
const patternsIn = (description: unknown): readonly string[] => {
  if (Array.isArray(description)) return description.flatMap(patternsIn);
  if (typeof description !== 'object' || description === null) return [];
  return Object.entries(description).flatMap(([key, inner]) =>
    key === 'pattern' && typeof inner === 'string' ? [inner] : patternsIn(inner),
  );
};
const isSlow = (pattern: string, flags: string): boolean =>
  analyse(new RegExp(pattern, flags)).reports.length > 0;

describe('a pattern', () => {
  it('of a description, of the interface or of the lab file, takes time in proportion to the text', async () => {
    const test = await serverForTests();
    const patterns = new Set([...patternsIn(test.server.swagger()), ...patternsIn(LAB_FILE_SCHEMA)]);
    await test.close();
    expect(patterns.size).toBeGreaterThan(15);
    expect([...patterns].filter((pattern) => isSlow(pattern, 'u'))).toEqual([]);
  });

  it('in the program takes time in proportion to the text', () => {
    const literals = sources.flatMap((file) =>
      literalsIn(file).map(({ pattern, flags }) => ({ file, pattern, flags })),
    );
    expect(literals.length).toBeGreaterThan(100);
    const slow = literals.filter(({ pattern, flags }) => isSlow(pattern, flags));
    expect(slow.filter(({ file }) => SHORT_TEXTS[file] === undefined)).toEqual([]);
    expect(new Set(slow.map(({ file }) => file))).toEqual(new Set(Object.keys(SHORT_TEXTS)));
  });

  it('would be found if it did not', () => {
    expect(isSlow('^[^\\r\\n\\t]*[^\\s][^\\r\\n\\t]*$', 'u')).toBe(true);
    expect(isSlow('^(\\d+\\.?\\d*)$', '')).toBe(true);
  });
});
