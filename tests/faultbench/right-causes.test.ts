import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { RIGHT_CAUSES } from './right-causes.ts';
import { RULE_KINDS } from './run-case.ts';

/** Rows `| fault (id) | harm | rules |` of the table of faults, ids and rules in code marks. */
const documented = (): Record<string, readonly string[]> => {
  const text = readFileSync(join(import.meta.dirname, '../../docs/faultbench.md'), 'utf8');
  const [, section = ''] = text.split('## Faults and the rules that name them');
  const [table = ''] = section.split('\n## ');
  const marked = (cell: string | undefined) =>
    [...(cell ?? '').matchAll(/`([^`]+)`/g)].map(([, id]) => id ?? '');
  return Object.fromEntries(
    table
      .split('\n')
      .filter((line) => line.startsWith('| ') && line.includes('`'))
      .flatMap((line) => {
        const [, fault, , rules] = line.split('|');
        return marked(fault).map((id) => [id, marked(rules)]);
      }),
  );
};

it('the table of right causes in the documents is the one that the bench judges by', () => {
  expect(documented()).toEqual(RIGHT_CAUSES);
});

it('every right cause is a rule of the watch', () => {
  for (const rules of Object.values(RIGHT_CAUSES)) {
    expect(rules.length).toBeGreaterThan(0);
    for (const rule of rules) expect(RULE_KINDS).toContain(rule);
  }
});
