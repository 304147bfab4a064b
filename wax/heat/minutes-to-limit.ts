// When a heater meets a limit, by the curves that its readings leave possible, with a band.

import { K95, minutesToCross, type ShapeError } from './first-order-curve.ts';
import { fitCurves, type FirstOrderState } from './first-order-fit.ts';
import type { Celsius } from '../units.ts';

export interface MinutesToLimit {
  readonly minutes: number;
  readonly low: number;
  /** Null: within the band it may never get there. */
  readonly high: number | null;
  /** What it rests on: the fitted curve, or a straight line where no bend is measurable yet (that is early). */
  readonly basis: 'first-order' | 'straight';
}

const HORIZON_MINUTES = 24 * 60;

/**
 * Standard deviation of the movement ahead that no noise explains, as a share of it, and its growth with the minutes
 * ahead over the spread of the fitted ones. A heater, its wax and a feeler in a sheath lag one behind the other, which
 * is more than one time constant. Chosen so that the band holds its share on simulated climbs (the test).
 */
const SHAPE_SHARE = 0.04;
const SHAPE_GROWTH = 0.01;

/**
 * Minutes from the newest reading until the temperature meets `limit`, rising or falling, with a band of about
 * 95 %: of the fit, of the bend that a line still leaves possible, and of the shape itself. Null when it does not get
 * there within a day, when there is no fit, or when melting lies in between.
 */
export function minutesToLimit(state: FirstOrderState, limit: Celsius): MinutesToLimit | null {
  const fitted = fitCurves(state);
  if (typeof fitted === 'string' || state.celsius === null) return null;
  const { melting } = state;
  const [least, most] = [Math.min(state.celsius, limit), Math.max(state.celsius, limit)];
  if (melting !== null && least < melting.low && most > melting.low) return null;
  if (melting !== null && least < melting.high && most > melting.high) return null;
  const from = limit - state.origin;
  const { chosen, alternative } = fitted;
  const minutes = minutesToCross(chosen, from, 0, HORIZON_MINUTES);
  if (minutes === null) return null;
  const shapeError = shapeErrorOf(state);
  const curves = alternative === null ? [chosen] : [chosen, alternative];
  const ends = (errors: number): readonly number[] =>
    curves.map((curve) => minutesToCross(curve, from, errors, HORIZON_MINUTES, shapeError) ?? Infinity);
  const high = Math.max(...ends(-K95));
  return {
    minutes,
    low: Math.min(minutes, ...ends(K95)),
    high: Number.isFinite(high) ? Math.max(minutes, high) : null,
    basis: chosen.kind,
  };
}

/** The further ahead, against the stretch that was fitted, the less a shape is proved by it. */
function shapeErrorOf({ moments: { one, u, uu } }: FirstOrderState): ShapeError {
  const spreadMinutes = Math.sqrt(Math.max(0, uu / one - (u / one) ** 2));
  return { share: SHAPE_SHARE, sharePerMinute: spreadMinutes > 0 ? SHAPE_GROWTH / spreadMinutes : 0 };
}
