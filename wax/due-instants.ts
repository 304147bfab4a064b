// When a stored pattern is due, by two courses that its place may take: it stays as warm as it is, or the coming day
// goes as the last one. The earlier counts; without a full day of readings there is only the first.

import { nightForecast } from './night-forecast.ts';
import type { PatternFacts } from './predicted-error.ts';
import type { TimedCelsius } from './reading-guard.ts';
import type { RelaxationState } from './reduced-time.ts';
import type { RelaxationParameters } from './relaxation-parameters.ts';
import { instantOfTolerance } from './tolerance-instant.ts';
import {
  type EpochMillis,
  MILLIS_PER_DAY,
  MILLIS_PER_HOUR,
  MILLIS_PER_MINUTE,
  type Micrometres,
} from './units.ts';
import type { WaxClass } from './classes/wax-properties.ts';

/** Null is never (within ten years). */
export interface DueInstants {
  readonly earliest: EpochMillis | null;
  readonly ifSteady: EpochMillis | null;
  /** Absent when there is no day to forecast from. */
  readonly byForecast?: EpochMillis | null;
}

const earlier = (one: EpochMillis | null, other: EpochMillis | null): EpochMillis | null =>
  one === null || other === null ? (one ?? other) : one < other ? one : other;

/**
 * `lastDay`: means at the place, oldest first; what is not before the state's own newest reading is left out.
 * `widthMillis`: how long each of them stands for.
 * @throws RangeError as `instantOfTolerance` does.
 */
export const dueInstants = (
  state: RelaxationState,
  pattern: PatternFacts,
  wax: WaxClass,
  params: RelaxationParameters,
  tolerance: Micrometres,
  lastDay: readonly { readonly at: number; readonly celsius: number }[],
  widthMillis: number,
): DueInstants => {
  const ifSteady = instantOfTolerance(state, pattern, wax, params, tolerance);
  const now: TimedCelsius = { at: state.at, celsius: state.celsius };
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
  const byForecast = instantOfTolerance(state, pattern, wax, params, tolerance, day.value);
  return { earliest: earlier(ifSteady, byForecast), ifSteady, byForecast };
};
