// One storage place over a month: a bar a night from its least to its most, and its mean kinetic temperature on it;
// the same in figures below. Each night leads to its sheet.

import type { MonthPlace } from '../../../api/month.ts';
import { DataTable } from '../../base/data-table.tsx';
import {
  formatDay,
  formatDegrees,
  formatDifference,
  formatNumber,
  formatTemperature,
  inUnit,
  type Reader,
  unitMark,
} from '../../base/format.ts';
import { t, word } from '../../base/messages.ts';
import { isPocket } from '../../base/wide.ts';
import { degreeLines } from '../common/course-line.ts';

const HEIGHT = 150;
const LEFT = 40;
const TOP = 12;
const FOOT = 20;

const Bars = ({ place, zoned }: { readonly place: MonthPlace; readonly zoned: Reader }) => {
  const width = isPocket.value ? 430 : 960;
  const values = place.nights.flatMap(({ minCelsius, maxCelsius }) =>
    minCelsius === null || maxCelsius === null ? [] : [minCelsius, maxCelsius],
  );
  if (values.length === 0) return null;
  const limit = place.storageMaxCelsius;
  const low = Math.floor(Math.min(...values)) - 1;
  const high = Math.ceil(Math.max(...values, ...(limit === null ? [] : [limit]))) + 1;
  const y = (celsius: number) => HEIGHT - FOOT - ((celsius - low) / (high - low)) * (HEIGHT - FOOT - TOP);
  const x = (date: string) => LEFT + ((Number(date.slice(8)) - 0.5) / 31) * (width - LEFT);
  return (
    <svg
      class="course"
      viewBox={`0 0 ${width} ${HEIGHT}`}
      role="img"
      aria-label={t('month.chart', { place: place.name })}
    >
      <text class="course-text" x="0" y={TOP}>
        {unitMark(zoned.unit)}
      </text>
      {degreeLines(low, high, zoned.unit).map((celsius) => (
        <g key={celsius}>
          <line class="course-rule" x1={LEFT} x2={width} y1={y(celsius)} y2={y(celsius)} />
          <text class="course-text" x={LEFT - 6} y={y(celsius) + 4} text-anchor="end">
            {Math.round(inUnit(celsius, zoned.unit))}
          </text>
        </g>
      ))}
      {limit !== null && <line class="course-limit" x1={LEFT} x2={width} y1={y(limit)} y2={y(limit)} />}
      {place.nights.map((night) =>
        night.minCelsius === null || night.maxCelsius === null ? null : (
          <g key={night.date}>
            <line
              class="night-bar"
              data-verdict={night.verdict}
              x1={x(night.date)}
              x2={x(night.date)}
              y1={y(night.minCelsius)}
              y2={y(night.maxCelsius)}
            />
            {night.meanKineticCelsius !== null && (
              <circle class="night-mean" cx={x(night.date)} cy={y(night.meanKineticCelsius)} r="2.5" />
            )}
            <text class="course-text" x={x(night.date)} y={HEIGHT - 4} text-anchor="middle">
              {Number(night.date.slice(8))}
            </text>
          </g>
        ),
      )}
    </svg>
  );
};

export const MonthNights = ({ place, zoned }: { readonly place: MonthPlace; readonly zoned: Reader }) => {
  const measured = place.nights.filter(({ minCelsius }) => minCelsius !== null);
  return (
    <div class="month-place">
      <h3>{place.name}</h3>
      {measured.length === 0 && <p>{t('month.no-nights')}</p>}
      <Bars place={place} zoned={zoned} />
      {measured.length > 0 && (
        <details>
          <summary>{t('month.nights')}</summary>
          <DataTable
            columns={[
              t('month.nights'),
              t('night.verdict'),
              t('night.least-most'),
              t('night.mean-kinetic'),
              t('night.swings'),
            ]}
            rows={measured.map((night) => ({
              key: night.date,
              cells: [
                <a key="night" href={`/night?date=${night.date}`}>
                  {formatDay(night.opens, zoned)}
                </a>,
                word('verdict', night.verdict),
                `${formatDegrees(night.minCelsius ?? 0, zoned)} – ${formatTemperature(night.maxCelsius ?? 0, zoned)}`,
                night.meanKineticCelsius === null ? '–' : formatTemperature(night.meanKineticCelsius, zoned),
                t('night.swings-of', {
                  count: formatNumber(night.swings, 1, zoned),
                  largest: formatDifference(night.largestSwingCelsius, zoned),
                }),
              ],
            }))}
          />
        </details>
      )}
    </div>
  );
};
