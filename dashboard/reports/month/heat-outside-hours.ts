// What heaters did while the lab was closed: how long each was at work, the energy, and the heat dose that its wax took
// and was spared. Pure. A temperature shows no switch: a heater counts as on while it is at its working temperature.

import type { SeriesBucket } from '../../../collector/store/store.ts';
import { type DoseKinetics, ageingRatio } from '../../../wax/heat/heat-dose.ts';
import { type Celsius, type EpochMillis, MILLIS_PER_MINUTE } from '../../../wax/units.ts';
import type { HeaterMonth } from '../../api/month.ts';
import { minutesWhere } from '../night/heat-figures.ts';

export interface ClosedSpan {
  readonly from: EpochMillis;
  /** The opening, or now where it lies ahead. */
  readonly to: EpochMillis;
}

export interface MeasuredHeater {
  readonly station: string;
  readonly name: string;
  /** Drawn on average while it is on; null where the lab has not entered it. */
  readonly watts: number | null;
  /** Of the whole month with the nights at its ends, oldest first. */
  readonly buckets: readonly SeriesBucket[];
  readonly widthMillis: number;
  /** A heater counts as on from here, °C. */
  readonly onFromAt: (at: EpochMillis) => number;
  /** Null where it holds no melted wax or none is named. */
  readonly wax: { readonly kinetics: DoseKinetics; readonly meltsFrom: Celsius } | null;
}

const MINUTES_PER_HOUR = 60;
const WATTS_PER_KILOWATT = 1000;

const bucketsWithin = (buckets: readonly SeriesBucket[], { from, to }: ClosedSpan): readonly SeriesBucket[] =>
  buckets.filter(({ at }) => at >= from && at < to);

/** Equivalent hours an hour at the bucket's mean; solid wax does not age, as in the dose of a charge. */
const doseRate = (wax: NonNullable<MeasuredHeater['wax']>, { mean }: SeriesBucket): number =>
  mean < wax.meltsFrom ? 0 : ageingRatio(mean as Celsius, wax.kinetics);

/**
 * What the wax took while the lab was closed, and what it would have taken besides had the heater stayed on as it was on
 * average in working hours. Nulls where that is not known: no wax, or never seen on in working hours.
 */
const doses = (
  { wax, widthMillis, onFromAt, buckets }: MeasuredHeater,
  closed: readonly SeriesBucket[],
): Pick<HeaterMonth, 'doseHours' | 'sparedDoseHours'> => {
  if (wax === null) return { doseHours: null, sparedDoseHours: null };
  const hoursOfBucket = widthMillis / MILLIS_PER_MINUTE / MINUTES_PER_HOUR;
  const doseHours = closed.reduce((sum, bucket) => sum + doseRate(wax, bucket) * hoursOfBucket, 0);
  const isClosed = new Set(closed.map(({ at }) => at));
  const atWork = buckets.filter(({ at, mean }) => !isClosed.has(at) && mean >= onFromAt(at));
  if (atWork.length === 0) return { doseHours, sparedDoseHours: null };
  const usual = atWork.reduce((sum, bucket) => sum + doseRate(wax, bucket), 0) / atWork.length;
  return { doseHours, sparedDoseHours: Math.max(0, usual * closed.length * hoursOfBucket - doseHours) };
};

/**
 * @example
 * // A pot of 200 W that was at work for 90 of 600 closed minutes: onMinutes 90, kilowattHours 0.3.
 */
export const heatOutsideHours = (heater: MeasuredHeater, spans: readonly ClosedSpan[]): HeaterMonth => {
  let [onMinutes, seenMinutes, closedMinutes] = [0, 0, 0];
  const closed: SeriesBucket[] = [];
  for (const span of spans) {
    const buckets = bucketsWithin(heater.buckets, span);
    const measured = { buckets, widthMillis: heater.widthMillis, to: span.to };
    onMinutes += minutesWhere(measured, (mean, at) => mean >= heater.onFromAt(at));
    seenMinutes += minutesWhere(measured, () => true);
    closedMinutes += (span.to - span.from) / MILLIS_PER_MINUTE;
    closed.push(...buckets);
  }
  const { station, name, watts } = heater;
  return {
    station,
    name,
    closedMinutes,
    unseenMinutes: Math.max(0, closedMinutes - seenMinutes),
    onMinutes,
    kilowattHours: watts === null ? null : (watts / WATTS_PER_KILOWATT) * (onMinutes / MINUTES_PER_HOUR),
    ...doses(heater, closed),
  };
};
