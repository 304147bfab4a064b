// The catalogue of problems, the code, the texts and the page are held against each other.

import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { errorsPage } from '../../scripts/errors-page.ts';
import { PROBLEMS } from '../../wax/problem-catalogue.ts';
import { languageFiles } from '../../words/load-languages.ts';

const root = join(import.meta.dirname, '../..');
const SOURCES = [
  'wax',
  'lab',
  'collector',
  'alerts',
  'pipeline',
  'dashboard/server',
  'dashboard/queries',
  'dashboard/reports',
  'cli',
];
const CATALOGUE = 'wax/problem-catalogue.ts';
/** Exceptions with a code of their own type; every other code is checked against the catalogue by its type. */
const CODE_SITE = /(?:Refusal|JournalFailure)\(\s*'([a-z0-9-]+)'/g;

const sources = execFileSync('git', ['ls-files', '--cached', '--others', '--exclude-standard', ...SOURCES], {
  cwd: root,
  encoding: 'utf8',
})
  .split('\n')
  .filter((file) => file.endsWith('.ts') && !file.endsWith('.test.ts') && file !== CATALOGUE)
  .map((file) => readFileSync(join(root, file), 'utf8'));
const codes = Object.keys(PROBLEMS);

describe('the catalogue of problems', () => {
  it('lists the code of every exception that refuses a start or a write', () => {
    const raised = sources.flatMap((source) => [...source.matchAll(CODE_SITE)].map(([, code = '']) => code));
    expect(raised.length).toBeGreaterThan(10);
    expect([...new Set(raised)].filter((code) => !codes.includes(code))).toEqual([]);
  });

  it('lists no code that nothing raises', () => {
    const everything = sources.join('\n');
    expect(codes.filter((code) => !everything.includes(`'${code}'`))).toEqual([]);
  });

  it('has for every code a text of what it means and one of what to do, and no text for another', () => {
    const { errors = {} } = languageFiles('en');
    const keys = Object.keys(errors).filter((key) => !key.endsWith('.what'));
    expect(keys.sort()).toEqual(codes.flatMap((code) => [`error.${code}.do`, `error.${code}.title`]).sort());
  });
});

describe('docs/errors.md', () => {
  it('is as the catalogue and the texts make it', () => {
    expect(readFileSync(join(root, 'docs/errors.md'), 'utf8')).toBe(errorsPage());
  });
});
