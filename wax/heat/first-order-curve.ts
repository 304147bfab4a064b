// The curve behind a forecast, read ahead of now: its value, its standard error, and when it crosses a limit.
// Coefficients are those of the integral form: [T(now), a, -b] with b = 1/τ and a = T∞/τ, or [T(now), slope].

import { type MomentsFit, standardErrorAlong } from '../numbers/weighted-moments.ts';

/** Coverage factor for about 95 %. */
export const K95 = 2;

export interface FirstOrderCurve {
  readonly kind: 'first-order' | 'straight';
  /** Times in minutes from now, temperatures from the fit's own origin. */
  readonly fit: MomentsFit;
}

/** Value and standard error of the curve itself (not of a new reading) `minutes` from now. */
export function curveAhead(curve: FirstOrderCurve, minutes: number): { value: number; error: number } {
  const [now = 0, a = 0, negativeRate = 0] = curve.fit.coefficients;
  if (curve.kind === 'straight')
    return { value: now + a * minutes, error: standardErrorAlong(curve.fit, [1, minutes]) };
  const rate = -negativeRate;
  // 1/τ next to nought divides nought by nought; the curve is a line there.
  if (Math.abs(rate * minutes) < 1e-6)
    return {
      value: now + (a - rate * now) * minutes,
      error: standardErrorAlong(curve.fit, [1, minutes, now * minutes]),
    };
  const left = Math.exp(-rate * minutes);
  const gone = (1 - left) / rate;
  const byRate = -now * minutes * left + (a * (minutes * left - gone)) / rate;
  return { value: now * left + a * gone, error: standardErrorAlong(curve.fit, [left, gone, -byRate]) };
}

/**
 * What the movement ahead may differ by because a real heater is not of first order, as shares of that movement:
 * one standard deviation, and what it grows by with each minute.
 */
export interface ShapeError {
  readonly share: number;
  readonly sharePerMinute: number;
}
const NO_SHAPE_ERROR: ShapeError = { share: 0, sharePerMinute: 0 };

/**
 * Minutes until the curve, moved by `errors` standard errors, first meets `limit` (from the curve's origin);
 * 0 when it is there already, null when it does not within `horizon` minutes.
 */
export function minutesToCross(
  curve: FirstOrderCurve,
  limit: number,
  errors: number,
  horizon: number,
  shapeError: ShapeError = NO_SHAPE_ERROR,
): number | null {
  const side = Math.sign(limit - (curve.fit.coefficients[0] ?? 0));
  const beyond = (minutes: number): boolean => {
    const { value, error } = curveAhead(curve, minutes);
    const [now = 0] = curve.fit.coefficients;
    const ofShape =
      Math.abs(value - now) * Math.min(1, shapeError.share + shapeError.sharePerMinute * minutes);
    return (value + side * errors * Math.hypot(error, ofShape) - limit) * side >= 0;
  };
  if (side === 0 || beyond(0)) return 0;
  let before = 0;
  for (let after = 1 / 60; ; after = Math.min(after * 1.25, horizon)) {
    if (beyond(after)) return crossing(beyond, before, after);
    if (after >= horizon) return null;
    before = after;
  }
}

function crossing(beyond: (minutes: number) => boolean, from: number, to: number): number {
  let [low, high] = [from, to];
  for (let halving = 0; halving < 40; halving++) {
    const middle = (low + high) / 2;
    if (beyond(middle)) high = middle;
    else low = middle;
  }
  return high;
}
