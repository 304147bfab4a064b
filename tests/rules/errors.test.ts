// The catalogue of problems and the code are held against each other, both ways.

import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';

const root = join(import.meta.dirname, '../..');
const SOURCES = [
  'wax',
  'lab',
  'collector',
  'alerts',
  'pipeline',
  'dashboard/server',
  'dashboard/queries',
  'cli',
];
/** How a problem's code stands in the source. */
const CODE_SITES = [
  /failure\(\s*'([a-z0-9]+(?:-[a-z0-9]+)+)'/g,
  /\bcode: '([a-z0-9]+(?:-[a-z0-9]+)+)'/g,
  /(?:HttpProblem|Refusal|JournalFailure)\(\s*'([a-z0-9-]+)'/g,
];

const files = execFileSync('git', ['ls-files', '--cached', '--others', '--exclude-standard', ...SOURCES], {
  cwd: root,
  encoding: 'utf8',
})
  .split('\n')
  .filter((file) => file.endsWith('.ts') && !file.endsWith('.test.ts'));
const sources = files.map((file) => readFileSync(join(root, file), 'utf8'));
const codes = new Set(
  sources.flatMap((source) =>
    CODE_SITES.flatMap((site) => [...source.matchAll(site)].map(([, code = '']) => code)),
  ),
);
const catalogue = readFileSync(join(root, 'docs/errors.md'), 'utf8');
const rows = [...catalogue.matchAll(/^\| `([a-z0-9-]+)` \|(.*)$/gm)].map(([, code = '', rest = '']) => ({
  code,
  rest,
}));

describe('docs/errors.md', () => {
  it('has a row for every code that the sources can give', () => {
    expect(codes.size).toBeGreaterThan(50);
    expect([...codes].filter((code) => !rows.some((row) => row.code === code))).toEqual([]);
  });

  it('has no row for a code that nothing gives', () => {
    const everything = sources.join('\n');
    expect(rows.filter(({ code }) => !everything.includes(`'${code}'`)).map(({ code }) => code)).toEqual([]);
  });

  it('says in every row what it means and what to do', () => {
    expect(
      rows.filter(({ rest }) => rest.split('|').some((cell) => cell === ' ')).map(({ code }) => code),
    ).toEqual([]);
  });
});
