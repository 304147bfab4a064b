// What holds the wax of a lot: the patterns, invested or not and where, and the pots.

import type { RecallView } from '../../../api/lots.ts';
import { DataTable } from '../../base/data-table.tsx';
import { formatPercent } from '../../base/format.ts';
import { t, word } from '../../base/messages.ts';
import { reader } from '../../live/lab-state.ts';
import { nameOfPattern } from '../common/bench/patterns-due.ts';
import { instantText } from '../../live/instant-text.ts';

type Pattern = RecallView['patterns'][number];
const stateOf = ({ fate }: Pattern): string =>
  fate === null ? t('lots.waiting') : `${word('fate', fate.kind)}, ${instantText(fate.at)}`;
const placeOf = ({ fate, stationName }: Pattern): string =>
  stationName ?? (fate === null ? t('lots.not-in-lab') : '–');

export const RecallTables = ({ found }: { readonly found: RecallView }) => {
  const lotOf = (id: string): string => found.lots.find((lot) => lot.id === id)?.lot ?? id;
  const waiting = found.patterns.filter(({ fate }) => fate === null).length;
  const share = (value: number): string => formatPercent(value, reader.value);
  return (
    <>
      <p class="work-verdict">
        {t('lots.summary', {
          waiting,
          ended: found.patterns.length - waiting,
          pots: found.charges.filter(({ endedAt }) => endedAt === null).length,
        })}
      </p>
      <h2>{t('lots.patterns')}</h2>
      {
        <DataTable
          none={t('lots.patterns-none')}
          rows={found.patterns}
          keyOf={(pattern) => `${pattern.id} ${pattern.lot}`}
          columns={{
            [t('work.case')]: (pattern) => <a href={`/p/${pattern.id}`}>{nameOfPattern(pattern)}</a>,
            [t('lots.state')]: (pattern) => <strong>{stateOf(pattern)}</strong>,
            [t('work.lies')]: placeOf,
            [t('lots.lot')]: (pattern) => lotOf(pattern.lot),
            [t('lots.share')]: { figures: (pattern) => share(pattern.share) },
            [t('work.made')]: (pattern) => instantText(pattern.madeAt),
            [t('work.id')]: (pattern) => pattern.id,
          }}
        />
      }
      <h2>{t('lots.charges')}</h2>
      {
        <DataTable
          none={t('lots.charges-none')}
          rows={found.charges}
          keyOf={(charge) => `${charge.id} ${charge.lot}`}
          columns={{
            [t('probes.station')]: (charge) => <a href={`/s/${charge.station}`}>{charge.stationName}</a>,
            [t('lots.state')]: (charge) =>
              charge.endedAt === null ? (
                <strong>{t('lots.in-pot')}</strong>
              ) : (
                t('lots.used-up', { at: instantText(charge.endedAt) })
              ),
            [t('lots.lot')]: (charge) => lotOf(charge.lot),
            [t('lots.share')]: { figures: (charge) => share(charge.share) },
            [t('station.charge-since')]: (charge) => instantText(charge.startedAt),
          }}
        />
      }
    </>
  );
};
