// Against which limits a place is held at an instant, and where its readings went beyond them. Pure.

import type { SeriesBucket } from '../../../collector/store/store.ts';
import type { StationPeriod, StationSettings } from '../../../lab/database/settings-history.ts';
import { stores } from '../../../lab/station-kinds.ts';
import { type EpochMillis, MILLIS_PER_MINUTE } from '../../../wax/units.ts';
import type { WaxValue } from '../../../wax/wax-class.ts';
import type { BeyondRun, LimitPeriod } from '../../api/evidence.ts';
import { iso } from '../../../wax/iso.ts';

export interface HeldBounds {
  /** °C; null where there is no limit on that side. */
  readonly low: number | null;
  readonly high: number | null;
}

const NO_BOUNDS: HeldBounds = { low: null, high: null };

/** A heater must stay under its ceiling; a store between its low limit, where it has one, and its highest. */
const boundsOf = ({ station, limits }: StationSettings): HeldBounds =>
  stores(station.kind)
    ? { low: limits.windowLow?.value ?? null, high: limits.storageMax?.value ?? null }
    : { low: null, high: limits.ceiling?.value ?? null };

export const boundsAt =
  (periods: readonly StationPeriod[]) =>
  (at: EpochMillis): HeldBounds => {
    const period = periods.findLast(({ from }) => from <= at) ?? periods[0];
    return period === undefined ? NO_BOUNDS : boundsOf(period.settings);
  };

const limitOf = (value: WaxValue | null): LimitPeriod['ceiling'] =>
  value === null ? null : { celsius: value.value, standing: value.standing };

const limitPeriod = ({ from, to, isRecorded, settings }: StationPeriod): LimitPeriod => ({
  from: iso(from),
  to: iso(to),
  isRecorded,
  wax: settings.wax,
  windowLow: limitOf(settings.limits.windowLow),
  windowHigh: limitOf(settings.limits.windowHigh),
  ceiling: limitOf(settings.limits.ceiling),
  storageMax: limitOf(settings.limits.storageMax),
  largestNightSwingCelsius: settings.ruleFigures['night-swing']?.limit_celsius_difference ?? null,
});

/** Periods that differ in nothing that a place is held against are one. */
export const limitPeriods = (periods: readonly StationPeriod[]): readonly LimitPeriod[] => {
  const joined: LimitPeriod[] = [];
  for (const period of periods.map(limitPeriod)) {
    const last = joined.at(-1);
    const isSame =
      last !== undefined &&
      JSON.stringify({ ...last, from: '', to: '' }) === JSON.stringify({ ...period, from: '', to: '' });
    if (isSame) joined[joined.length - 1] = { ...last, to: period.to };
    else joined.push(period);
  }
  return joined;
};

/** Which side a bucket went beyond by its single readings, how far, and the limit. */
const findBeyond = (
  { min, max }: SeriesBucket,
  { low, high }: HeldBounds,
): Pick<BeyondRun, 'side' | 'extremeCelsius' | 'limitCelsius'> | null => {
  if (high !== null && max > high) return { side: 'above', extremeCelsius: max, limitCelsius: high };
  return low !== null && min < low ? { side: 'below', extremeCelsius: min, limitCelsius: low } : null;
};

/**
 * Every stay beyond the limits that held, however short: a single reading counts. A gap or a change of limit ends one.
 * @param buckets oldest first; the last one may reach beyond `until`, the end of what is looked at
 */
export const findBeyondRuns = (
  buckets: readonly SeriesBucket[],
  widthMillis: number,
  bounds: (at: EpochMillis) => HeldBounds,
  until: EpochMillis,
): readonly BeyondRun[] => {
  const runs: { from: number; to: number; beyond: NonNullable<ReturnType<typeof findBeyond>> }[] = [];
  for (const bucket of buckets) {
    const beyond = findBeyond(bucket, bounds(bucket.at));
    if (beyond === null) continue;
    const end = Math.min(bucket.at + widthMillis, until);
    const last = runs.at(-1);
    const goesOn =
      last !== undefined &&
      last.to === bucket.at &&
      last.beyond.side === beyond.side &&
      last.beyond.limitCelsius === beyond.limitCelsius;
    if (!goesOn) runs.push({ from: bucket.at, to: end, beyond });
    else {
      last.to = end;
      const isFurther =
        beyond.side === 'above'
          ? beyond.extremeCelsius > last.beyond.extremeCelsius
          : beyond.extremeCelsius < last.beyond.extremeCelsius;
      if (isFurther) last.beyond = beyond;
    }
  }
  return runs.map(({ from, to, beyond }) => ({
    from: iso(from),
    to: iso(to),
    minutes: (to - from) / MILLIS_PER_MINUTE,
    ...beyond,
  }));
};
