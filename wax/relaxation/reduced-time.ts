// Reduced time: how long a pattern has aged, counted at the reference temperature, the integral of dt / aT(T(t))
// along straight lines between readings. Where readings are missing the line is carried across and counted apart.

import { isTemperature, type Mutable, type TimedCelsius } from '../reading-guard.ts';
import type { RelaxationParameters } from './relaxation-parameters.ts';
import { meanThermalFactor, thermalFactor } from '../heat/thermal-rate.ts';
import { type Celsius, type EpochMillis, MILLIS_PER_SECOND, type Seconds } from '../units.ts';

/** A running reduced time; plain JSON. `celsius` means nothing while `readings` is 0. */
export interface RelaxationState {
  /** From readings. */
  readonly reducedSeconds: Seconds;
  /** Within gaps, along a straight line between their two ends. */
  readonly gapReducedSeconds: Seconds;
  /** Within gaps, at the warmer of their two ends. */
  readonly gapReducedMost: Seconds;
  readonly gapSeconds: Seconds;
  readonly at: EpochMillis;
  readonly celsius: Celsius;
  readonly readings: number;
  readonly refused: number;
}

/** At the instant when the pattern was made. Until the first reading its temperature is taken for the time before. */
export const relaxationStart = (at: EpochMillis): RelaxationState => ({
  reducedSeconds: 0 as Seconds,
  gapReducedSeconds: 0 as Seconds,
  gapReducedMost: 0 as Seconds,
  gapSeconds: 0 as Seconds,
  at,
  celsius: 0 as Celsius,
  readings: 0,
  refused: 0,
});

/** A copy for `relaxationAdvance`. Written out, so that all of them have one hidden shape and stay fast. */
export const runningRelaxation = (state: RelaxationState): Mutable<RelaxationState> => ({
  reducedSeconds: state.reducedSeconds,
  gapReducedSeconds: state.gapReducedSeconds,
  gapReducedMost: state.gapReducedMost,
  gapSeconds: state.gapSeconds,
  at: state.at,
  celsius: state.celsius,
  readings: state.readings,
  refused: state.refused,
});

/**
 * `relaxationStep` in place, for millions of readings: allocates nothing.
 * @param atMost how warm a gap before the reading may have been, where that is known better than by its ends
 */
export const relaxationAdvance = (
  state: Mutable<RelaxationState>,
  { at, celsius }: TimedCelsius,
  { rate, longestGap }: Pick<RelaxationParameters, 'rate' | 'longestGap'>,
  atMost: Celsius = celsius,
): void => {
  const isRepeat = state.readings > 0 && at === state.at;
  if (!isTemperature(celsius) || !Number.isFinite(at) || at < state.at || isRepeat) {
    state.refused += 1;
    return;
  }
  const before = state.readings === 0 ? celsius : state.celsius;
  const elapsed = (at - state.at) / MILLIS_PER_SECOND;
  const reduced = elapsed * meanThermalFactor(rate, before, celsius);
  if (elapsed <= longestGap) {
    state.reducedSeconds = (state.reducedSeconds + reduced) as Seconds;
  } else {
    state.gapSeconds = (state.gapSeconds + elapsed) as Seconds;
    state.gapReducedSeconds = (state.gapReducedSeconds + reduced) as Seconds;
    const most = elapsed * thermalFactor(rate, Math.max(before, celsius, atMost));
    state.gapReducedMost = (state.gapReducedMost + most) as Seconds;
  }
  state.at = at;
  state.celsius = celsius;
  state.readings += 1;
};

/** One more reading. A reading that cannot be used is counted in `refused` and changes nothing else. */
export const relaxationStep = (
  state: RelaxationState,
  at: EpochMillis,
  celsius: Celsius,
  params: Pick<RelaxationParameters, 'rate' | 'longestGap'>,
): RelaxationState => {
  const next = runningRelaxation(state);
  relaxationAdvance(next, { at, celsius }, params);
  return next;
};

/** With gaps bridged by straight lines. */
export const likelyReducedSeconds = (state: RelaxationState): number =>
  state.reducedSeconds + state.gapReducedSeconds;
