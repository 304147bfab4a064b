// Mean kinetic temperature: the one steady temperature that would have done the same as the real course
// (Haynes, J Pharm Sci 60:927, 1971; USP <1160>), weighted by time. Along straight lines between readings the
// mean of the rate is exact. Gaps do not count.

import { checkSeries, isTemperature, isWithin, type Mutable, problemOfGap } from '../reading-guard.ts';
import { failure, type Result, success } from '../result.ts';
import { arrheniusRate, meanThermalFactor, thermalFactor } from './thermal-rate.ts';
import {
  ABSOLUTE_ZERO_CELSIUS,
  type Celsius,
  type EpochMillis,
  GAS_CONSTANT,
  type JoulesPerMole,
  MILLIS_PER_SECOND,
  type Seconds,
} from '../units.ts';

/** USP <1160>: 83.144 kJ/mol with R = 8.3144 J/(mol K), that is, exactly 10 000 K. */
export const PHARMACOPOEIA_ACTIVATION_ENERGY = (10_000 * GAS_CONSTANT) as JoulesPerMole;

/** Only keeps the exponentials near 1; it cancels out of the result. */
const SCALE = 25 as Celsius;

const rateOf = (activationEnergy: JoulesPerMole) => arrheniusRate(activationEnergy, SCALE);

const temperatureOf = (meanFactor: number, activationEnergy: JoulesPerMole): Celsius =>
  (1 / (1 / (SCALE - ABSOLUTE_ZERO_CELSIUS) - (Math.log(meanFactor) * GAS_CONSTANT) / activationEnergy) +
    ABSOLUTE_ZERO_CELSIUS) as Celsius;

/** A running mean; plain JSON. `at` and `celsius` mean nothing while `readings` is 0. */
export interface MktState {
  readonly activationEnergy: JoulesPerMole;
  readonly longestGap: Seconds;
  /** Integral of the rate relative to that at 25 °C, s. */
  readonly weightedSeconds: number;
  readonly seconds: Seconds;
  readonly gapSeconds: Seconds;
  readonly at: EpochMillis;
  readonly celsius: Celsius;
  readonly readings: number;
  readonly refused: number;
}

export interface MktOptions {
  readonly longestGap: Seconds;
  /** Default: that of the pharmacopoeia. */
  readonly activationEnergy?: JoulesPerMole;
}

export const mktStart = (options: MktOptions): MktState => ({
  activationEnergy: options.activationEnergy ?? PHARMACOPOEIA_ACTIVATION_ENERGY,
  longestGap: options.longestGap,
  weightedSeconds: 0,
  seconds: 0 as Seconds,
  gapSeconds: 0 as Seconds,
  at: 0 as EpochMillis,
  celsius: 0 as Celsius,
  readings: 0,
  refused: 0,
});

/** A copy for `mktAdvance`. Written out, so that all of them have one hidden shape and stay fast. */
export const runningMkt = (state: MktState): Mutable<MktState> => ({
  activationEnergy: state.activationEnergy,
  longestGap: state.longestGap,
  weightedSeconds: state.weightedSeconds,
  seconds: state.seconds,
  gapSeconds: state.gapSeconds,
  at: state.at,
  celsius: state.celsius,
  readings: state.readings,
  refused: state.refused,
});

/** `mktStep` in place, for courses of thousands of points. */
export const mktAdvance = (state: Mutable<MktState>, at: EpochMillis, celsius: Celsius): void => {
  if (!isTemperature(celsius) || !Number.isFinite(at) || (state.readings > 0 && at <= state.at)) {
    state.refused += 1;
    return;
  }
  const elapsed = (at - state.at) / MILLIS_PER_SECOND;
  if (state.readings > 0 && elapsed > state.longestGap)
    state.gapSeconds = (state.gapSeconds + elapsed) as Seconds;
  else if (state.readings > 0) {
    const factor = meanThermalFactor(rateOf(state.activationEnergy), state.celsius, celsius);
    state.weightedSeconds += elapsed * factor;
    state.seconds = (state.seconds + elapsed) as Seconds;
  }
  state.at = at;
  state.celsius = celsius;
  state.readings += 1;
};

/** One more reading. A reading that cannot be used is counted in `refused` and changes nothing else. */
export const mktStep = (state: MktState, at: EpochMillis, celsius: Celsius): MktState => {
  const next = runningMkt(state);
  mktAdvance(next, at, celsius);
  return next;
};

/** Null while no time has been measured. */
export const mktValue = (state: MktState): Celsius | null =>
  state.seconds > 0 ? temperatureOf(state.weightedSeconds / state.seconds, state.activationEnergy) : null;

const problemOfEnergy = (activationEnergy: number): Result<never> | null =>
  isWithin(activationEnergy, Number.MIN_VALUE) ? null : failure('bad-kinetics', {}, activationEnergy);

export interface WeightedCelsius {
  readonly celsius: number;
  /** Time at that temperature, in any one unit. Default 1, for readings at equal steps. */
  readonly weight?: number;
}

/** Of steady temperatures with their weights, as the pharmacopoeia has it. */
export const meanKineticTemperature = (
  values: readonly WeightedCelsius[],
  activationEnergy: JoulesPerMole = PHARMACOPOEIA_ACTIVATION_ENERGY,
): Result<Celsius> => {
  if (values.length === 0) return failure('series-empty');
  const bad = problemOfEnergy(activationEnergy);
  if (bad !== null) return bad;
  for (const [index, { celsius, weight = 1 }] of values.entries()) {
    if (!isTemperature(celsius)) {
      return failure('not-a-temperature', {}, celsius, `values/${index}`);
    }
    if (!isWithin(weight, 0)) {
      return failure('negative-duration', {}, weight, `weights/${index}`);
    }
  }
  const heaviest = values.reduce((most, { weight = 1 }) => Math.max(most, weight), 0);
  if (heaviest === 0) return failure('series-empty');
  let sum = 0;
  let weights = 0;
  for (const { celsius, weight = 1 } of values) {
    // Over the heaviest, so that no sum of weights in whatever unit overflows.
    sum += (weight / heaviest) * thermalFactor(rateOf(activationEnergy), celsius);
    weights += weight / heaviest;
  }
  return success(temperatureOf(sum / weights, activationEnergy));
};

/** Of a series of readings from outside, along straight lines, gaps left out. */
export const meanKineticTemperatureOfSeries = (
  series: readonly { readonly at: number; readonly celsius: number }[],
  options: MktOptions,
): Result<{ readonly celsius: Celsius; readonly seconds: Seconds; readonly gapSeconds: Seconds }> => {
  const checked = checkSeries(series);
  if (!checked.ok) return checked;
  const bad =
    problemOfEnergy(options.activationEnergy ?? PHARMACOPOEIA_ACTIVATION_ENERGY) ??
    problemOfGap(options.longestGap);
  if (bad !== null) return bad;
  const state = runningMkt(mktStart(options));
  for (const { at, celsius } of checked.value) mktAdvance(state, at, celsius);
  const celsius = mktValue(state);
  if (celsius === null) {
    return failure('series-empty');
  }
  return success({ celsius, seconds: state.seconds, gapSeconds: state.gapSeconds });
};
