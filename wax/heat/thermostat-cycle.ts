// Thermostat cycling: the textbook cycle of a two-point controller on a first-order load, and a streaming tracker
// that finds period, duty, overshoot and their drift in the readings. It reads the temperature, not the heater: with
// a sluggish probe the rise is a little longer than the heater's true on-time.
// Source: the exponential of lumped capacitance solved for time (Incropera & DeWitt ch. 5.1; from memory).

import { median } from '../numbers/median.ts';
import { isTemperature, isWithin } from '../reading-guard.ts';
import { failure, type Result, success } from '../result.ts';
import {
  type Celsius,
  type EpochMillis,
  MILLIS_PER_SECOND,
  type Seconds,
  SECONDS_PER_HOUR,
} from '../units.ts';

export interface ThermostatLoad {
  readonly timeConstant: Seconds;
  readonly ambient: Celsius;
  /** Steady temperature with the heater always on. */
  readonly heaterOn: Celsius;
}

export interface ThermostatTimes {
  readonly onSeconds: number;
  readonly offSeconds: number;
  readonly periodSeconds: number;
  /** Share of time with the heater on, 0 to 1. */
  readonly duty: number;
}

/** On- and off-time between `low` and `high`: t_on = τ ln((T_on - low)/(T_on - high)), t_off likewise to ambient. */
export function thermostatTimes(load: ThermostatLoad, low: Celsius, high: Celsius): Result<ThermostatTimes> {
  const { ambient, heaterOn, timeConstant } = load;
  const inOrder = ambient < low && low < high && high < heaterOn;
  const areNumbers =
    [ambient, low, high, heaterOn].every(isTemperature) && isWithin(timeConstant, Number.MIN_VALUE);
  if (!inOrder || !areNumbers)
    return failure(
      'thermostat-cannot-cycle',
      {},
      `${ambient} < ${low} < ${high} < ${heaterOn} °C, ${timeConstant} s`,
    );
  const onSeconds = timeConstant * Math.log((heaterOn - low) / (heaterOn - high));
  const offSeconds = timeConstant * Math.log((high - ambient) / (low - ambient));
  const periodSeconds = onSeconds + offSeconds;
  return success({ onSeconds, offSeconds, periodSeconds, duty: onSeconds / periodSeconds });
}

/** One full cycle, from a low turning point over the high one to the next low. */
export interface ThermostatCycle {
  readonly from: EpochMillis;
  readonly to: EpochMillis;
  readonly riseSeconds: number;
  readonly fallSeconds: number;
  readonly low: number;
  readonly high: number;
}

interface Turn {
  readonly at: EpochMillis;
  readonly celsius: number;
}

/** Plain JSON. */
export interface ThermostatState {
  readonly last: EpochMillis | null;
  /** Which way the temperature goes; null until it has moved by the hysteresis. */
  readonly going: 'up' | 'down' | null;
  /** Highest and lowest reading since the last turning point. */
  readonly top: Turn | null;
  readonly bottom: Turn | null;
  /** Turning points of the cycle that is under way. */
  readonly valley: Turn | null;
  readonly peak: Turn | null;
  /** The newest cycles, oldest first, at most `KEPT_CYCLES`. */
  readonly cycles: readonly ThermostatCycle[];
  /** Late and impossible readings left out. */
  readonly skipped: number;
}

/** A turn counts once the temperature has come back by this much, in kelvins. */
const HYSTERESIS = 0.3;
/** A longer silence ends the cycle under way uncounted. */
const LONGEST_GAP_MILLIS = 300 * MILLIS_PER_SECOND;
const KEPT_CYCLES = 24;

export const thermostatStart = (): ThermostatState => ({
  last: null,
  going: null,
  top: null,
  bottom: null,
  valley: null,
  peak: null,
  cycles: [],
  skipped: 0,
});

/** Takes one reading in; a closed cycle appears at the end of `cycles`. */
export function thermostatStep(state: ThermostatState, at: EpochMillis, celsius: Celsius): ThermostatState {
  if (!Number.isFinite(at) || !isTemperature(celsius) || (state.last !== null && at <= state.last))
    return { ...state, skipped: state.skipped + 1 };
  const turn: Turn = { at, celsius };
  if (
    state.last === null ||
    state.top === null ||
    state.bottom === null ||
    at - state.last > LONGEST_GAP_MILLIS
  )
    return {
      ...thermostatStart(),
      last: at,
      top: turn,
      bottom: turn,
      cycles: state.cycles,
      skipped: state.skipped,
    };
  const top = celsius > state.top.celsius ? turn : state.top;
  const bottom = celsius < state.bottom.celsius ? turn : state.bottom;
  const next: ThermostatState = { ...state, last: at, top, bottom };
  if (state.going !== 'down' && top.celsius - celsius >= HYSTERESIS)
    return { ...next, going: 'down', peak: state.going === 'up' ? top : null, bottom: turn };
  if (state.going !== 'up' && celsius - bottom.celsius >= HYSTERESIS)
    return state.going === 'down' ? cycleClosed(next, bottom, turn) : { ...next, going: 'up', top: turn };
  return next;
}

function cycleClosed(state: ThermostatState, valley: Turn, now: Turn): ThermostatState {
  const opened = { ...state, going: 'up' as const, top: now, valley, peak: null };
  const { valley: from, peak, cycles } = state;
  if (from === null || peak === null) return opened;
  const cycle: ThermostatCycle = {
    from: from.at,
    to: valley.at,
    riseSeconds: (peak.at - from.at) / MILLIS_PER_SECOND,
    fallSeconds: (valley.at - peak.at) / MILLIS_PER_SECOND,
    low: (from.celsius + valley.celsius) / 2,
    high: peak.celsius,
  };
  return { ...opened, cycles: [...cycles, cycle].slice(-KEPT_CYCLES) };
}

export interface ThermostatSummary {
  readonly cycles: number;
  readonly periodSeconds: number;
  readonly duty: number;
  readonly low: number;
  readonly high: number;
  readonly mean: number;
  /** Highest peak above the upper switching point, in kelvins; null when the lab has not entered where that is. */
  readonly overshoot: number | null;
  /** Change an hour over the kept cycles (Theil-Sen: the median of all slopes, which a lone odd cycle cannot turn). */
  readonly drift: {
    readonly mean: number;
    readonly high: number;
    readonly periodSeconds: number;
    readonly duty: number;
  };
}

const FEWEST_CYCLES = 3;

/** Medians over the newest cycles, and their drift; null with fewer than three. */
export function thermostatSummary(state: ThermostatState, upperSwitch?: Celsius): ThermostatSummary | null {
  const { cycles } = state;
  if (cycles.length < FEWEST_CYCLES) return null;
  const period = (cycle: ThermostatCycle) => cycle.riseSeconds + cycle.fallSeconds;
  const duty = (cycle: ThermostatCycle) => cycle.riseSeconds / period(cycle);
  const mean = (cycle: ThermostatCycle) => (cycle.low + cycle.high) / 2;
  const high = (cycle: ThermostatCycle) => cycle.high;
  return {
    cycles: cycles.length,
    periodSeconds: median(cycles.map(period)),
    duty: median(cycles.map(duty)),
    low: median(cycles.map((cycle) => cycle.low)),
    high: median(cycles.map(high)),
    mean: median(cycles.map(mean)),
    overshoot: upperSwitch === undefined ? null : Math.max(...cycles.map(high)) - upperSwitch,
    drift: {
      mean: driftOf(cycles, mean),
      high: driftOf(cycles, high),
      periodSeconds: driftOf(cycles, period),
      duty: driftOf(cycles, duty),
    },
  };
}

function driftOf(cycles: readonly ThermostatCycle[], value: (cycle: ThermostatCycle) => number): number {
  const slopes: number[] = [];
  for (const [i, first] of cycles.entries())
    for (const second of cycles.slice(i + 1))
      slopes.push(
        (value(second) - value(first)) / ((second.from - first.from) / MILLIS_PER_SECOND / SECONDS_PER_HOUR),
      );
  return median(slopes);
}
