// One storage place over a month: a bar a night from its least to its most, and its mean kinetic temperature on it;
// the same in figures below. Each night leads to its sheet.

import type { MonthPlace } from '../../../api/month.ts';
import { storageMonthChart } from '../../../charts/storage-month.ts';
import { DataTable } from '../../base/data-table.tsx';
import {
  formatDay,
  formatDegrees,
  formatDifference,
  formatNumber,
  formatTemperature,
  type Reader,
} from '../../base/format.ts';
import { t, word } from '../../base/messages.ts';
import { now } from '../../live/lab-state.ts';
import { VerdictMark } from '../common/bench/verdict-mark.tsx';
import { chartFormats } from '../common/chart/chart-formats.ts';
import { DrawnChart } from '../common/chart/drawn-chart.tsx';

const HEIGHT = 190;
/** Verdicts that have a sign in the chart. */
const SIGNED = ['check', 'remake'] as const;

interface MonthNightsProps {
  readonly place: MonthPlace;
  /** °C, of all places. */
  readonly drawn: readonly number[];
  readonly zoned: Reader;
}

export const MonthNights = ({ place, drawn, zoned }: MonthNightsProps) => {
  const chart = storageMonthChart(place, drawn, chartFormats(zoned, now.peek()), {
    label: t('month.chart', { place: place.name }),
    day: t('month.day'),
    limit: (limit) => t('night.limit', { limit }),
  });
  const measured = place.nights.filter(({ minCelsius }) => minCelsius !== null);
  return (
    <div class="month-place">
      <h3>{place.name}</h3>
      {measured.length === 0 && <p>{t('month.no-nights')}</p>}
      {chart && <DrawnChart chart={chart} height={HEIGHT} />}
      {SIGNED.some((verdict) => place.nights.some((night) => night.verdict === verdict)) && (
        <p class="row dim">
          {SIGNED.filter((verdict) => place.nights.some((night) => night.verdict === verdict)).map(
            (verdict) => (
              <VerdictMark key={verdict} verdict={verdict}>
                {word('place-verdict', verdict)}
              </VerdictMark>
            ),
          )}
        </p>
      )}
      {measured.length > 0 && (
        <details>
          <summary>{t('month.nights')}</summary>
          <DataTable
            rows={measured}
            keyOf={(night) => night.date}
            columns={{
              [t('month.nights')]: (night) => (
                <a href={`/night?date=${night.date}`}>{formatDay(night.opens, zoned)}</a>
              ),
              [t('night.verdict')]: (night) => word('place-verdict', night.verdict),
              [t('night.least-most')]: {
                figures: (night) =>
                  `${formatDegrees(night.minCelsius ?? 0, zoned)} – ${formatTemperature(night.maxCelsius ?? 0, zoned)}`,
              },
              [t('night.mean-kinetic')]: {
                figures: (night) =>
                  night.meanKineticCelsius === null
                    ? '–'
                    : formatTemperature(night.meanKineticCelsius, zoned),
              },
              [t('night.swings')]: (night) =>
                t('night.swings-of', {
                  count: formatNumber(night.swings, 1, zoned),
                  largest: formatDifference(night.largestSwingCelsius, zoned),
                }),
            }}
          />
        </details>
      )}
    </div>
  );
};
