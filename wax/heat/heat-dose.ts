// Heat dose: equivalent hours at a reference temperature, the integral of exp(E/R (1/Tref - 1/T)) dt along
// straight lines between readings. Where readings are missing nothing is assumed hot; the gap is reported.
// The form is Arrhenius'; the activation energy is a setting, because none is known for dental wax.

import {
  checkSeries,
  isTemperature,
  isWithin,
  type Mutable,
  problemOfGap,
  type TimedCelsius,
} from '../reading-guard.ts';
import { failure, problemLine, type Result, success } from '../result.ts';
import {
  type Celsius,
  type EpochMillis,
  type EquivalentHours,
  type Fraction,
  type JoulesPerMole,
  MILLIS_PER_SECOND,
  SECONDS_PER_HOUR,
  type Seconds,
} from '../units.ts';
import { arrheniusRate, meanThermalFactor, type ThermalRate, thermalFactor } from './thermal-rate.ts';
import type { WaxClass } from '../classes/wax-properties.ts';

/** How ageing depends on temperature. */
export interface DoseKinetics {
  /** Positive. */
  readonly activationEnergy: JoulesPerMole;
  /** Where an hour is one equivalent hour. */
  readonly reference: Celsius;
}

const rates = new WeakMap<DoseKinetics, ThermalRate>();

/** Worked out once for each kinetics: a dose is advanced millions of times by one and the same. */
function rateOf(kinetics: DoseKinetics): ThermalRate {
  let rate = rates.get(kinetics);
  if (rate === undefined) {
    rate = arrheniusRate(kinetics.activationEnergy, kinetics.reference);
    rates.set(kinetics, rate);
  }
  return rate;
}

/** Ageing of this class, from its figures. */
export const doseKinetics = ({ kinetics }: WaxClass): DoseKinetics => ({
  activationEnergy: kinetics.activationEnergy.value as JoulesPerMole,
  reference: kinetics.reference.value as Celsius,
});

/** Evaporation of this class: its enthalpy in the place of the activation energy (Clausius and Clapeyron). */
export const evaporationKinetics = ({ kinetics }: WaxClass): DoseKinetics => ({
  activationEnergy: kinetics.evaporationEnthalpy.value as JoulesPerMole,
  reference: kinetics.reference.value as Celsius,
});

/**
 * How many times as fast wax ages at `celsius` as at the reference.
 * @throws RangeError for what is no temperature or no kinetics.
 * @example ageingRatio(celsius(80), { activationEnergy: joulesPerMole(100e3), reference: celsius(70) }) // 2.698
 */
export const ageingRatio = (celsius: Celsius, kinetics: DoseKinetics): number => {
  if (!isTemperature(celsius) || problemOfKinetics(kinetics) !== null)
    throw new RangeError(`ageingRatio: ${celsius} °C, ${kinetics.activationEnergy} J/mol`);
  return thermalFactor(rateOf(kinetics), celsius);
};

/**
 * Evaporation at `celsius` over that at the reference, with `evaporationKinetics`; a ratio, not a mass.
 * @throws RangeError for what is no temperature or no kinetics.
 */
export const evaporationRatio = (celsius: Celsius, kinetics: DoseKinetics): number =>
  ageingRatio(celsius, kinetics);

/**
 * Dose of a ramp that is linear in time; relative error below 1e-11.
 * @throws RangeError for a negative or infinite duration; check what comes from outside with `checkedDoseOfRamp`.
 */
export const doseOfRamp = (
  from: Celsius,
  to: Celsius,
  duration: Seconds,
  kinetics: DoseKinetics,
): EquivalentHours => {
  const result = checkedDoseOfRamp(from, to, duration, kinetics);
  if (!result.ok) throw new RangeError(`doseOfRamp: ${problemLine(result.problem)}`);
  return result.value;
};

/** Null when the kinetics can be computed with. */
const problemOfKinetics = ({ activationEnergy, reference }: DoseKinetics): Result<never> | null =>
  isWithin(activationEnergy, Number.MIN_VALUE) && isTemperature(reference)
    ? null
    : failure('bad-kinetics', {}, `${activationEnergy}, ${reference}`);

/** `doseOfRamp` for plain numbers from outside. */
export const checkedDoseOfRamp = (
  from: number,
  to: number,
  durationSeconds: number,
  kinetics: DoseKinetics,
): Result<EquivalentHours> => {
  if (!isTemperature(from) || !isTemperature(to)) {
    return failure('not-a-temperature', {}, `${from}, ${to}`);
  }
  if (!isWithin(durationSeconds, 0)) {
    return failure('negative-duration', {}, durationSeconds);
  }
  const bad = problemOfKinetics(kinetics);
  if (bad !== null) return bad;
  const hours = durationSeconds / SECONDS_PER_HOUR;
  return success((hours * meanThermalFactor(rateOf(kinetics), from, to)) as EquivalentHours);
};

/** A running dose; plain JSON. `at` and `celsius` mean nothing while `readings` is 0. */
export interface DoseState {
  readonly hours: EquivalentHours;
  /** Measured time that counted, above `hotAbove`. */
  readonly hotSeconds: Seconds;
  /** Time in gaps between readings, for which nothing is known. */
  readonly gapSeconds: Seconds;
  readonly at: EpochMillis;
  readonly celsius: Celsius;
  readonly readings: number;
  /** Readings that were no temperature or not newer than the last. */
  readonly refused: number;
}

export interface DoseOptions {
  readonly kinetics: DoseKinetics;
  /** A longer time between two readings is a gap. */
  readonly longestGap: Seconds;
  /** Only time above this counts; the straight line is cut where it crosses. */
  readonly hotAbove?: Celsius;
}

export const doseStart = (): DoseState => ({
  hours: 0 as EquivalentHours,
  hotSeconds: 0 as Seconds,
  gapSeconds: 0 as Seconds,
  at: 0 as EpochMillis,
  celsius: 0 as Celsius,
  readings: 0,
  refused: 0,
});

/** A copy for `doseAdvance`. Written out, so that all running doses have one hidden shape and stay fast. */
export const runningDose = (state: DoseState = doseStart()): Mutable<DoseState> => ({
  hours: state.hours,
  hotSeconds: state.hotSeconds,
  gapSeconds: state.gapSeconds,
  at: state.at,
  celsius: state.celsius,
  readings: state.readings,
  refused: state.refused,
});

/** `doseStep` in place, for millions of readings: allocates nothing. */
export const doseAdvance = (
  state: Mutable<DoseState>,
  { at, celsius }: TimedCelsius,
  options: DoseOptions,
): void => {
  if (!isTemperature(celsius) || !Number.isFinite(at) || (state.readings > 0 && at <= state.at)) {
    state.refused += 1;
    return;
  }
  if (state.readings > 0) {
    const elapsed = (at - state.at) / MILLIS_PER_SECOND;
    if (elapsed > options.longestGap) {
      state.gapSeconds = (state.gapSeconds + elapsed) as Seconds;
    } else {
      addRamp(state, state.celsius, celsius, elapsed, options);
    }
  }
  state.at = at;
  state.celsius = celsius;
  state.readings += 1;
};

const addRamp = (
  state: Mutable<DoseState>,
  from: Celsius,
  to: Celsius,
  elapsed: number,
  options: DoseOptions,
): void => {
  const { hotAbove } = options;
  let first = from;
  let last = to;
  let hot = elapsed;
  if (hotAbove !== undefined && (from <= hotAbove || to <= hotAbove)) {
    if (from <= hotAbove && to <= hotAbove) return;
    const rising = from <= hotAbove;
    hot = (elapsed * (rising ? to - hotAbove : from - hotAbove)) / Math.abs(to - from);
    if (rising) first = hotAbove;
    else last = hotAbove;
  }
  const hours = (hot / SECONDS_PER_HOUR) * meanThermalFactor(rateOf(options.kinetics), first, last);
  state.hours = (state.hours + hours) as EquivalentHours;
  state.hotSeconds = (state.hotSeconds + hot) as Seconds;
};

/** One more reading. A reading that cannot be used is counted in `refused` and changes nothing else. */
export const doseStep = (
  state: DoseState,
  at: EpochMillis,
  celsius: Celsius,
  options: DoseOptions,
): DoseState => {
  const next = runningDose(state);
  doseAdvance(next, { at, celsius }, options);
  return next;
};

/** Mean dose after fresh wax took the place of `fraction` of the charge. */
export const doseAfterTopUp = (state: DoseState, fraction: Fraction): DoseState => {
  if (!isWithin(fraction, 0, 1)) {
    throw new RangeError(`doseAfterTopUp: the fraction ${fraction} is not from 0 to 1`);
  }
  const next = runningDose(state);
  next.hours = (state.hours * (1 - fraction)) as EquivalentHours;
  return next;
};

/** Dose of a whole series from outside. */
export const heatDose = (
  series: readonly { readonly at: number; readonly celsius: number }[],
  options: DoseOptions,
): Result<DoseState> => {
  const checked = checkSeries(series);
  if (!checked.ok) return checked;
  const bad = problemOfKinetics(options.kinetics) ?? problemOfGap(options.longestGap);
  if (bad !== null) return bad;
  const { hotAbove } = options;
  if (hotAbove !== undefined && !isTemperature(hotAbove))
    return failure('not-a-temperature', {}, hotAbove, 'hotAbove');
  const state = runningDose();
  for (const reading of checked.value) doseAdvance(state, reading, options);
  return success(state);
};
