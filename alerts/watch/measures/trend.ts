// How fast a temperature moves: the slope of a straight line through the last readings, fitted by weighted least
// squares with weights that fade with age, so that one noisy reading does not turn it and no list is kept.

import { MILLIS_PER_SECOND, SECONDS_PER_HOUR } from '../../../wax/units.ts';

/** Sums over readings, times in seconds before the newest one. Plain JSON, advanced in place. */
export interface Trend {
  at: number;
  readings: number;
  weight: number;
  t: number;
  tt: number;
  y: number;
  ty: number;
  /** Zero of y, so that the sums stay small. */
  origin: number;
}

const FEWEST_READINGS = 4;

export const startTrend = (at: number, celsius: number): Trend => ({
  at,
  readings: 1,
  weight: 1,
  t: 0,
  tt: 0,
  y: 0,
  ty: 0,
  origin: celsius,
});

/** A reading `memorySeconds` old weighs 1/e; a silence of more than five times that starts anew. */
export function advanceTrend(trend: Trend, at: number, celsius: number, memorySeconds: number): void {
  const elapsed = (at - trend.at) / MILLIS_PER_SECOND;
  if (elapsed > 5 * memorySeconds) {
    Object.assign(trend, startTrend(at, celsius));
    return;
  }
  const keep = Math.exp(-elapsed / memorySeconds);
  const y = celsius - trend.origin;
  trend.tt = keep * (trend.tt - 2 * elapsed * trend.t + elapsed * elapsed * trend.weight);
  trend.ty = keep * (trend.ty - elapsed * trend.y);
  trend.t = keep * (trend.t - elapsed * trend.weight);
  trend.y = keep * trend.y + y;
  trend.weight = keep * trend.weight + 1;
  trend.at = at;
  trend.readings += 1;
}

/** Degrees Celsius per hour; null while it rests on too few readings. */
export function celsiusPerHour(trend: Trend | null): number | null {
  if (trend === null || trend.readings < FEWEST_READINGS) return null;
  const spread = trend.weight * trend.tt - trend.t * trend.t;
  if (spread < 1e-6) return null;
  return ((trend.weight * trend.ty - trend.t * trend.y) / spread) * SECONDS_PER_HOUR;
}
