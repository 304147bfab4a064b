import { before, moreWords } from './recipe.mjs';

const SCREEN = `// How many stations of each kind the lab has.

import { useSignalEffect } from '@preact/signals';
import { DataTable } from '../../base/data-table.tsx';
import { t, word } from '../../base/messages.ts';
import { stations } from '../../live/lab-state.ts';

export default function KindCounts() {
  useSignalEffect(() => {
    document.title = t('kind-counts.title');
  });
  const kinds = stations.value.map((station) => station.value.kind);
  return (
    <>
      <h1>{t('kind-counts.title')}</h1>
      <DataTable
        rows={[...new Set(kinds)]}
        keyOf={(kind) => kind}
        columns={{
          [t('kind-counts.kind')]: (kind) => word('kind', kind),
          [t('kind-counts.count')]: { figures: (kind) => kinds.filter((each) => each === kind).length },
        }}
      />
    </>
  );
}
`;

/** @type {import('./recipe.mjs').Recipe} */
export const screen = {
  name: 'screen',
  example: '`/kinds`, how many stations of each kind the lab has',
  most: 5,
  steps: [
    {
      path: 'dashboard/web/screens/overview/kind-counts.tsx',
      does: 'the screen, its default export',
      edit: () => SCREEN,
    },
    {
      path: 'dashboard/web/base/places.ts',
      does: 'its address; the browser suites go through every address by themselves',
      edit: before("  night: '/night',", "  kinds: '/kinds',\n"),
    },
    {
      path: 'dashboard/web/app/screens.ts',
      does: 'its script and the words that it needs',
      edit: before(
        '  night: screen(',
        "  kinds: screen(() => import('../screens/overview/kind-counts.tsx')),\n",
      ),
    },
    {
      path: 'words/en/screens/daily.json',
      does: 'its texts',
      edit: moreWords({
        'kind-counts.count': 'Stations',
        'kind-counts.kind': 'Kind',
        'kind-counts.title': 'Stations by kind',
      }),
    },
    {
      path: 'words/de/screens/daily.json',
      does: 'the same in German; one file for each further language',
      edit: moreWords({
        'kind-counts.count': 'Stationen',
        'kind-counts.kind': 'Art',
        'kind-counts.title': 'Stationen nach Art',
      }),
    },
  ],
  generated: [],
  tests: ['dashboard/web/app', 'dashboard/web/messages', 'words'],
};
