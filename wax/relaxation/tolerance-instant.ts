// When the permanent error of a pattern meets what it may be: in its past, or on a course that its place may take. It
// stays as warm as it is, or the coming day goes as the last one; the earlier counts. On its die it is never.

import { nightForecast } from './night-forecast.ts';
import { type FittedPattern, likelyErrorAt } from './predicted-error.ts';
import type { TimedCelsius } from '../reading-guard.ts';
import { type ReducedCourse, reducedSecondsAt } from './reduced-course.ts';
import { likelyCorner, type RelaxationParameters } from './relaxation-parameters.ts';
import { releasedShare } from './stretched-exponential.ts';
import { meanThermalFactor, thermalFactor, type ThermalRate } from '../heat/thermal-rate.ts';
import {
  type EpochMillis,
  MILLIS_PER_DAY,
  MILLIS_PER_HOUR,
  MILLIS_PER_MINUTE,
  MILLIS_PER_SECOND,
  type Micrometres,
} from '../units.ts';

/** Beyond ten years counts as never. */
const HORIZON_MILLIS = 3652.5 * MILLIS_PER_DAY;
/** Halvings of the past; ten years become less than a millisecond. */
const HALVINGS = 50;
const MICROMETRES_PER_MILLIMETRE = 1000;

/** Null is never (within ten years). */
export interface DueInstants {
  readonly earliest: EpochMillis | null;
  readonly ifSteady: EpochMillis | null;
  /** Absent when there is no day to forecast from. */
  readonly byForecast?: EpochMillis | null;
}

/** When it was met, if it is met at the end of the course. */
function instantInThePast(
  course: ReducedCourse,
  pattern: FittedPattern,
  params: RelaxationParameters,
  allowed: number,
): EpochMillis | null {
  const isMet = (at: number) => likelyErrorAt(course, pattern, params, at) >= allowed;
  if (!isMet(course.at)) return null;
  let before: number = pattern.periods[0]?.from ?? course.at;
  let after: number = course.at;
  if (isMet(before)) return before as EpochMillis;
  for (let halving = 0; halving < HALVINGS && after - before > 1; halving += 1) {
    const middle = (before + after) / 2;
    if (isMet(middle)) after = middle;
    else before = middle;
  }
  return Math.round(after) as EpochMillis;
}

/** Reduced seconds that are left from the end of the course; Infinity when the frozen strain does not reach so far. */
function reducedSecondsLeft(
  course: ReducedCourse,
  pattern: FittedPattern,
  params: RelaxationParameters,
  allowed: number,
): number {
  if (pattern.periods.at(-1)?.isHeld !== false) return Infinity;
  const { frozenStrain, tau, beta } = likelyCorner(params, pattern.technique);
  const whole = frozenStrain * pattern.length * MICROMETRES_PER_MILLIMETRE;
  const now = reducedSecondsAt(course, course.at).likely - reducedSecondsAt(course, pattern.frozenAt).likely;
  const missing = allowed - likelyErrorAt(course, pattern, params, course.at);
  const share = releasedShare(now / tau, beta) + missing / whole;
  return share >= 1 ? Infinity : tau * (-Math.log1p(-share)) ** (1 / beta) - now;
}

/** Along straight lines through the forecast, then level. */
function instantAhead(
  rate: ThermalRate,
  from: TimedCelsius,
  forecast: readonly TimedCelsius[],
  reducedSeconds: number,
): EpochMillis | null {
  let left = reducedSeconds;
  let reached = from;
  for (const next of forecast) {
    const seconds = (next.at - reached.at) / MILLIS_PER_SECOND;
    const reduced = seconds * meanThermalFactor(rate, reached.celsius, next.celsius);
    // Within a step of half an hour the mean of its rate is near enough.
    if (reduced >= left)
      return Math.round(reached.at + (next.at - reached.at) * (left / reduced)) as EpochMillis;
    left -= reduced;
    reached = next;
  }
  const millis = (left / thermalFactor(rate, reached.celsius)) * MILLIS_PER_SECOND;
  const at = reached.at + millis;
  return at - from.at <= HORIZON_MILLIS ? (Math.round(at) as EpochMillis) : null;
}

/**
 * `lastDay`: means at the place, oldest first; what is not before the end of the course is left out.
 * `widthMillis`: how long each of them stands for.
 * @throws RangeError when `allowed` is not a number
 */
export const dueInstants = (
  course: ReducedCourse,
  pattern: FittedPattern,
  params: RelaxationParameters,
  allowed: Micrometres,
  lastDay: readonly { readonly at: number; readonly celsius: number }[],
  widthMillis: number,
): DueInstants => {
  if (!Number.isFinite(allowed)) throw new RangeError(`allowed: ${allowed} µm`);
  const past = instantInThePast(course, pattern, params, allowed);
  if (past !== null) return { earliest: past, ifSteady: past };
  const left = reducedSecondsLeft(course, pattern, params, allowed);
  if (left === Infinity) return { earliest: null, ifSteady: null };
  const now: TimedCelsius = { at: course.at, celsius: course.celsius };
  const ifSteady = instantAhead(params.rate, now, [], left);
  const day = nightForecast(
    [...lastDay.filter(({ at }) => at < now.at), now],
    (now.at + MILLIS_PER_DAY) as EpochMillis,
    {
      days: 1,
      stepMillis: 30 * MILLIS_PER_MINUTE,
      longestGapMillis: Math.max(MILLIS_PER_HOUR, 2 * widthMillis),
    },
  );
  if (!day.ok) return { earliest: ifSteady, ifSteady };
  const byForecast = instantAhead(params.rate, now, day.value, left);
  return { earliest: earlierOf(ifSteady, byForecast), ifSteady, byForecast };
};

const earlierOf = (first: EpochMillis | null, second: EpochMillis | null): EpochMillis | null =>
  first === null || second === null ? (first ?? second) : first < second ? first : second;
