// How fast a temperature moves: the slope of a straight line through the last readings, fitted by weighted least
// squares with weights that fade with age, so that one noisy reading does not turn it and no list is kept.

import { MILLIS_PER_SECOND, SECONDS_PER_HOUR } from '../../../wax/units.ts';

/** Sums over readings, times in seconds before the newest one. Plain JSON. */
export interface Trend {
  readonly at: number;
  readonly readings: number;
  readonly weight: number;
  readonly t: number;
  readonly tt: number;
  readonly y: number;
  readonly ty: number;
  /** Zero of y, so that the sums stay small. */
  readonly origin: number;
}

const FEWEST_READINGS = 4;

/** A reading `memorySeconds` old weighs 1/e; a silence of more than five times that starts anew. */
export function trendStep(trend: Trend | null, at: number, celsius: number, memorySeconds: number): Trend {
  const elapsed = trend === null ? 0 : (at - trend.at) / MILLIS_PER_SECOND;
  if (trend === null || elapsed > 5 * memorySeconds)
    return { at, readings: 1, weight: 1, t: 0, tt: 0, y: 0, ty: 0, origin: celsius };
  const keep = Math.exp(-elapsed / memorySeconds);
  const y = celsius - trend.origin;
  return {
    at,
    readings: trend.readings + 1,
    weight: keep * trend.weight + 1,
    t: keep * (trend.t - elapsed * trend.weight),
    tt: keep * (trend.tt - 2 * elapsed * trend.t + elapsed * elapsed * trend.weight),
    y: keep * trend.y + y,
    ty: keep * (trend.ty - elapsed * trend.y),
    origin: trend.origin,
  };
}

/** Degrees Celsius per hour; null while it rests on fewer than `fewest` readings. */
export function celsiusPerHour(trend: Trend | null, fewest = FEWEST_READINGS): number | null {
  if (trend === null || trend.readings < fewest) return null;
  const spread = trend.weight * trend.tt - trend.t * trend.t;
  if (spread < 1e-6) return null;
  return ((trend.weight * trend.ty - trend.t * trend.y) / spread) * SECONDS_PER_HOUR;
}
