// One storage place over a month: a bar a night from its lowest to its highest, with its mean kinetic temperature. Pure.

import type { MonthPlace } from '../api/month.ts';
import { type Chart, type ChartFormats, toUnit } from './chart.ts';
import { temperatureAxis } from './value-axis.ts';

const DAYS = 31;

interface MonthWords {
  readonly label: string;
  /** What the numbers along the foot are: days of the month. */
  readonly day: string;
  readonly limit: (temperature: string) => string;
}

const TONES = { check: 'medium', remake: 'high' } as const;
const toneOf = (verdict: string) => (verdict === 'check' || verdict === 'remake' ? TONES[verdict] : 'plain');

const dayOf = (date: string): number => Number(date.slice(8));

/** All that is drawn of the places, °C: the charts of a month share one scale, so that they can be compared. */
export const monthTemperatures = (places: readonly MonthPlace[]): readonly number[] =>
  places.flatMap(({ storageMaxCelsius, nights }) =>
    [storageMaxCelsius, ...nights.flatMap(({ minCelsius, maxCelsius }) => [minCelsius, maxCelsius])].filter(
      (celsius) => celsius !== null,
    ),
  );

/**
 * Null when no night has readings.
 * @param drawn °C, of all places, from `monthTemperatures`
 */
export const storageMonthChart = (
  place: MonthPlace,
  drawn: readonly number[],
  formats: ChartFormats,
  words: MonthWords,
): Chart | null => {
  const ranges = place.nights.flatMap(({ date, minCelsius, maxCelsius, meanKineticCelsius, verdict }) =>
    minCelsius === null || maxCelsius === null
      ? []
      : [{ date, minCelsius, maxCelsius, meanKineticCelsius, verdict }],
  );
  if (ranges.length === 0) return null;
  const limits = place.storageMaxCelsius === null ? [] : [place.storageMaxCelsius];
  const y = temperatureAxis(drawn, formats);
  return {
    label: words.label,
    x: {
      low: 0.5,
      high: DAYS + 0.5,
      title: words.day,
      ticks: ranges.map(({ date }) => ({ value: dayOf(date), text: String(dayOf(date)) })),
      textOf: String,
    },
    y,
    window: null,
    limits: limits.map((celsius) => {
      const value = toUnit(celsius, formats);
      return { y: value, text: words.limit(y.textOf(value)) };
    }),
    series: [],
    ranges: ranges.map(({ date, minCelsius, maxCelsius, meanKineticCelsius, verdict }) => ({
      x: dayOf(date),
      low: toUnit(minCelsius, formats),
      high: toUnit(maxCelsius, formats),
      mark: meanKineticCelsius === null ? null : toUnit(meanKineticCelsius, formats),
      tone: toneOf(verdict),
    })),
    events: [],
  };
};
