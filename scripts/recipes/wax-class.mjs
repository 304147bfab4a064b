import { before, edits, moreWords } from './recipe.mjs';

const CLASS = `
export const blockOut: WaxClass = {
  id: 'block-out',
  name: 'Block-out wax',
  workingWindow: practice(30, 40),
  potWindow: practice(62, 68),
  ceiling: commonPractice(70, 'pot-maximum-range', { low_celsius: 65, high_celsius: 70 }),
  melting: practice(45, 60),
  flow: [],
  ...sharedKinetics(65),
  ...pliable,
};
`;

/** @type {import('./recipe.mjs').Recipe} */
export const waxClass = {
  name: 'wax class',
  example: '`block-out`, a pliable wax that fills undercuts',
  most: null,
  steps: [
    {
      path: 'wax/classes/wax-class-id.ts',
      does: 'its id',
      edit: before("  'sticky',\n", "  'block-out',\n"),
    },
    {
      path: 'wax/classes/processing.ts',
      does: 'its values, each with standing and source, in the file of its group; what nobody has published is left open',
      edit: (text) => text.trimEnd().concat('\n', CLASS),
    },
    {
      path: 'wax/classes/table.ts',
      does: 'its row',
      edit: edits(
        before('boxing, sticky, utility }', 'blockOut, '),
        before('  sticky,\n', "  'block-out': blockOut,\n"),
      ),
    },
    {
      path: 'words/en/screens/daily.json',
      does: 'its name in full and short; a source that is in no other class goes into `words/en/sources.json`',
      edit: moreWords({ 'wax.block-out': 'Block-out wax', 'wax-short.block-out': 'Block-out' }),
    },
    {
      path: 'words/de/screens/daily.json',
      does: 'the same in German; one file for each further language',
      edit: moreWords({ 'wax.block-out': 'Ausblockwachs', 'wax-short.block-out': 'Ausblock' }),
    },
  ],
  generated: [
    { path: 'docs/science.md', command: ['npm', 'run', '--silent', 'make:science'] },
    {
      path: 'docs/generated/lab-file.schema.json',
      command: ['npx', 'vitest', 'run', 'lab/lab-file/lab-file-schema', '--update'],
    },
  ],
  tests: [
    'wax/wax-class',
    'scripts/science',
    'lab/lab-file/lab-file-schema',
    'dashboard/web/messages',
    'words',
  ],
};
