// A forecast of the coming temperatures at a storage place, from how its last days went: at each time of day the
// median of the days before, shifted by how far now differs from them; the shift fades. Weather and heating
// plan are not in it; a day counts 24 hours, so a clock change moves it by an hour.

import { median } from '../numbers/median.ts';
import { checkSeries, type TimedCelsius } from '../reading-guard.ts';
import { failure, type Result, success } from '../result.ts';
import {
  type Celsius,
  type EpochMillis,
  MILLIS_PER_DAY,
  MILLIS_PER_HOUR,
  MILLIS_PER_MINUTE,
} from '../units.ts';

export interface NightForecastOptions {
  /** Days to look back, at most. */
  readonly days?: number;
  /** Time between two forecast points. */
  readonly stepMillis?: number;
  /** Readings further apart than this prove nothing about the time between. */
  readonly longestGapMillis?: number;
}

/** After this time a third of today's difference from the days before is left; common practice, no source. */
const FADING_MILLIS = 4 * MILLIS_PER_HOUR;

/** On the straight line between the two readings about `at`; null in a gap and outside of the series. */
const temperatureAt = (
  series: readonly TimedCelsius[],
  at: number,
  longestGapMillis: number,
): number | null => {
  let low = 0;
  let high = series.length - 1;
  while (low < high) {
    const middle = Math.floor((low + high) / 2);
    if ((series[middle]?.at ?? 0) < at) low = middle + 1;
    else high = middle;
  }
  const after = series[low];
  if (after === undefined || after.at < at) return null;
  if (after.at === at) return after.celsius;
  const before = series[low - 1];
  if (before === undefined || after.at - before.at > longestGapMillis) return null;
  return before.celsius + ((after.celsius - before.celsius) * (at - before.at)) / (after.at - before.at);
};

/**
 * From the last reading of `history` until `until`. Refused when no day before covers the time: then there is no
 * forecast, and the place can only be taken as it is now.
 */
export const nightForecast = (
  history: readonly { readonly at: number; readonly celsius: number }[],
  until: EpochMillis,
  {
    days = 5,
    stepMillis = 15 * MILLIS_PER_MINUTE,
    longestGapMillis = MILLIS_PER_HOUR,
  }: NightForecastOptions = {},
): Result<readonly TimedCelsius[]> => {
  const checked = checkSeries(history);
  if (!checked.ok) return checked;
  if (!Number.isFinite(until)) return failure('not-an-instant', {}, until);
  if (!(days >= 1 && stepMillis > 0 && longestGapMillis > 0 && Number.isFinite(days + stepMillis)))
    return failure('negative-duration', {}, `${days}, ${stepMillis}, ${longestGapMillis}`);
  const series = checked.value;
  const now = series.at(-1);
  if (now === undefined) return failure('series-empty');
  const usual = (at: number): number | null => {
    const seen: number[] = [];
    for (let day = 1; day <= days; day += 1) {
      const value = temperatureAt(series, at - day * MILLIS_PER_DAY, longestGapMillis);
      if (value !== null) seen.push(value);
    }
    return seen.length === 0 ? null : median(seen);
  };
  const usualNow = usual(now.at);
  const points: TimedCelsius[] = [];
  for (let at = now.at + stepMillis; at < until + stepMillis; at += stepMillis) {
    const end = Math.min(at, until);
    const value = usual(end);
    if (usualNow === null || value === null) {
      return failure('no-day-to-compare', {}, new Date(end).toISOString());
    }
    const shift = (now.celsius - usualNow) * Math.exp(-(end - now.at) / FADING_MILLIS);
    points.push({ at: end as EpochMillis, celsius: (value + shift) as Celsius });
  }
  return success(points);
};
