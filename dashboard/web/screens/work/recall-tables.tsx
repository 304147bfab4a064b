// What holds the wax of a lot: the patterns, invested or not and where, and the pots.

import type { RecallView } from '../../../api/lots.ts';
import { DataTable } from '../../base/data-table.tsx';
import { formatInstant, formatPercent } from '../../base/format.ts';
import { t, word } from '../../base/messages.ts';
import { now, reader } from '../../live/lab-state.ts';
import { nameOfPattern } from '../common/bench/patterns-due.ts';

const at = (instant: string): string => formatInstant(instant, now.value, reader.value);

type Pattern = RecallView['patterns'][number];
const stateOf = ({ fate }: Pattern): string =>
  fate === null ? t('lots.waiting') : `${word('fate', fate.kind)}, ${at(fate.at)}`;
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
          columns={[
            t('work.case'),
            t('lots.state'),
            t('work.lies'),
            t('lots.lot'),
            { figures: t('lots.share') },
            t('work.made'),
            t('work.id'),
          ]}
          rows={found.patterns.map((pattern) => ({
            key: `${pattern.id} ${pattern.lot}`,
            cells: [
              <a href={`/p/${pattern.id}`}>{nameOfPattern(pattern)}</a>,
              <strong>{stateOf(pattern)}</strong>,
              placeOf(pattern),
              lotOf(pattern.lot),
              share(pattern.share),
              at(pattern.madeAt),
              pattern.id,
            ],
          }))}
        />
      }
      <h2>{t('lots.charges')}</h2>
      {
        <DataTable
          none={t('lots.charges-none')}
          columns={[
            t('probes.station'),
            t('lots.state'),
            t('lots.lot'),
            { figures: t('lots.share') },
            t('station.charge-since'),
          ]}
          rows={found.charges.map((charge) => ({
            key: `${charge.id} ${charge.lot}`,
            cells: [
              <a href={`/s/${charge.station}`}>{charge.stationName}</a>,
              charge.endedAt === null ? (
                <strong>{t('lots.in-pot')}</strong>
              ) : (
                t('lots.used-up', { at: at(charge.endedAt) })
              ),
              lotOf(charge.lot),
              share(charge.share),
              at(charge.startedAt),
            ],
          }))}
        />
      }
    </>
  );
};
