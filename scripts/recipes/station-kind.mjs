import { before, edits, moreWords } from './recipe.mjs';

/** @type {import('./recipe.mjs').Recipe} */
export const stationKind = {
  name: 'station kind',
  example: '`wax-injector`, a heated pot that presses melted wax into a mould',
  most: 4,
  steps: [
    {
      path: 'lab/station-kinds.ts',
      does: 'its name and its row: role, window, ceiling, caution; a kind without a full row does not compile',
      edit: edits(
        before("  'annealer',\n", "  'wax-injector',\n"),
        before('  annealer: {', "  'wax-injector': { ...POT, hasDoor: true },\n"),
      ),
    },
    {
      path: 'words/en/screens/daily.json',
      does: 'what it is called',
      edit: moreWords({ 'kind.wax-injector': 'Wax injector' }),
    },
    {
      path: 'words/de/screens/daily.json',
      does: 'the same in German; one file for each further language',
      edit: moreWords({ 'kind.wax-injector': 'Wachsinjektor' }),
    },
    {
      path: 'lab/station-kinds.test.ts',
      does: 'its place among the kinds that hold melted wax, store, or do neither',
      edit: before("]);\n  });\n\n  it('warns of skin", ", 'wax-injector'"),
    },
  ],
  generated: [
    {
      path: 'docs/generated/lab-file.schema.json',
      command: ['npx', 'vitest', 'run', 'lab/lab-file/lab-file-schema', '--update'],
    },
  ],
  tests: [
    'lab/station-kinds',
    'lab/lab-file/lab-file-schema',
    'lab/limits',
    'words',
    'dashboard/web/messages',
    'tests/rules/station-kinds',
  ],
};
