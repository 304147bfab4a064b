// What the streaming sums refuse: a reading that is no temperature, and one that is not newer than the last.
// A refused reading changes nothing but the count of refused ones, so that no sum is ever silently wrong.

import { failure, type Result, success } from './result.ts';
import { ABSOLUTE_ZERO_CELSIUS, type Celsius, type EpochMillis } from './units.ts';

export interface TimedCelsius {
  readonly at: EpochMillis;
  readonly celsius: Celsius;
}

export type Mutable<T> = { -readonly [Key in keyof T]: T[Key] };

/** A finite number between two ends, both included. False also for NaN, and for null and text, which compare as numbers. */
export const isWithin = (value: number, least: number, most = Number.MAX_VALUE): boolean =>
  typeof value === 'number' && value >= least && value <= most;

export const isTemperature = (celsius: number): boolean => isWithin(celsius, ABSOLUTE_ZERO_CELSIUS);

/** Null when what counts as a gap is given. */
export const problemOfGap = (longestGapSeconds: number): Result<never> | null =>
  isWithin(longestGapSeconds, 0, Number.POSITIVE_INFINITY)
    ? null
    : failure('negative-duration', {}, longestGapSeconds);

/** A series from outside: at least one reading, real temperatures, instants that rise. */
export const checkSeries = (
  series: readonly { readonly at: number; readonly celsius: number }[],
): Result<readonly TimedCelsius[]> => {
  if (series.length === 0) return failure('series-empty');
  let previous = Number.NEGATIVE_INFINITY;
  for (const [index, { at, celsius }] of series.entries()) {
    if (!isTemperature(celsius)) {
      return failure('not-a-temperature', {}, celsius, `readings/${index}`);
    }
    if (!Number.isFinite(at)) return failure('not-an-instant', {}, at, `readings/${index}`);
    if (at <= previous) {
      return failure('times-unsorted', {}, at, `readings/${index}`);
    }
    previous = at;
  }
  // Checked above, so the brands hold.
  return success(series as readonly TimedCelsius[]);
};

/**
 * The row of a kind; throws a RangeError that names the kinds there are, because only a bug can bring another one.
 * @example rowOf({ pt100: 100, pt1000: 1000 }, 'pt100', 'platinum') // 100
 */
export function rowOf<Kind extends string | number, Row>(
  table: Readonly<Record<Kind, Row>>,
  kind: Kind,
  what: string,
): Row {
  if ((typeof kind !== 'string' && typeof kind !== 'number') || !Object.hasOwn(table, kind))
    throw new RangeError(`${what}: ${String(kind)} is none of ${Object.keys(table).join(', ')}`);
  return table[kind];
}
