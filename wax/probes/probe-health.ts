// How a probe behaves, from a stretch of its readings: how often it measures, how long it rests on one value, how much
// it scatters, which readings stand out and where its level jumped. It marks and deletes nothing. Pure.
// Spikes by the filter of Hampel (median and median absolute deviation of a moving window; Pearson, R. K.: Outliers in
// process modeling and identification, IEEE Trans. Control Syst. Technol. 10 (2002), 55-63: window and threshold are
// choices; from memory). Scatter from second differences: a steady rise or fall leaves nothing in them, and white noise
// of standard deviation s leaves s·√6.

import { median } from '../numbers/median.ts';

export interface ProbeSample {
  /** Epoch milliseconds. */
  readonly at: number;
  readonly celsius: number;
}

export interface Spike extends ProbeSample {
  /** Median of its neighbours. */
  readonly expected_celsius: number;
}

export interface Jump {
  readonly at: number;
  readonly from_celsius: number;
  readonly to_celsius: number;
}

export interface ProbeHealth {
  readonly readings: number;
  /** Median of the steps from one reading to the next; null below two readings. */
  readonly interval_seconds: number | null;
  readonly longestGap_seconds: number | null;
  /** The longest stretch on exactly one value. */
  readonly longestSame_seconds: number | null;
  /** Standard deviation of a reading; null below `FEWEST` readings. */
  readonly noise_celsius: number | null;
  readonly spikes: readonly Spike[];
  readonly jumps: readonly Jump[];
}

/** Normal distribution: standard deviation over median absolute deviation. */
const SIGMA_PER_MAD = 1.4826;
/** Readings on either side of the one that is judged. Common practice. */
const HALF_WINDOW = 3;
/** Standard deviations. Common practice: three. */
const SPIKE_SIGMAS = 3;
/** What stands out by less matters to no wax. From memory. */
const LEAST_SPIKE_CELSIUS = 1;
/** A level that changes by so much from one reading to the next and stays, and by so many times the scatter. From memory. */
const LEAST_JUMP_CELSIUS = 2.5;
const JUMP_SIGMAS = 6;
/** The change from one reading to the next must be by far the steepest around. */
const JUMP_SHARE = 0.8;
const FEWEST = 10;

const deviation = (values: readonly number[], centre: number): number =>
  SIGMA_PER_MAD * median(values.map((value) => Math.abs(value - centre)));

const steps = (readings: readonly ProbeSample[]): readonly number[] =>
  readings.slice(1).map(({ at }, index) => at - (readings[index]?.at ?? at));

function noise(values: readonly number[]): number | null {
  if (values.length < FEWEST) return null;
  const bends = values
    .slice(2)
    .map((value, index) => value - 2 * (values[index + 1] ?? 0) + (values[index] ?? 0));
  return deviation(bends, 0) / Math.sqrt(6);
}

function longestSame(readings: readonly ProbeSample[]): number {
  let since = readings[0];
  let longest = 0;
  for (const reading of readings) {
    if (since === undefined || reading.celsius !== since.celsius) since = reading;
    longest = Math.max(longest, reading.at - since.at);
  }
  return longest;
}

function spikes(readings: readonly ProbeSample[], values: readonly number[]): readonly Spike[] {
  return readings.flatMap((reading, index) => {
    if (index < HALF_WINDOW || index + HALF_WINDOW >= values.length) return [];
    const window = values.slice(index - HALF_WINDOW, index + HALF_WINDOW + 1);
    const expected = median(window);
    const limit = Math.max(LEAST_SPIKE_CELSIUS, SPIKE_SIGMAS * deviation(window, expected));
    return Math.abs(reading.celsius - expected) > limit ? [{ ...reading, expected_celsius: expected }] : [];
  });
}

function jumps(
  readings: readonly ProbeSample[],
  values: readonly number[],
  scatter: number,
): readonly Jump[] {
  const least = Math.max(LEAST_JUMP_CELSIUS, JUMP_SIGMAS * scatter);
  return readings.flatMap(({ at }, index) => {
    const side = 2 * HALF_WINDOW;
    if (index < side || index + side > values.length) return [];
    const from = median(values.slice(index - side, index));
    const to = median(values.slice(index, index + side));
    const step = (values[index] ?? 0) - (values[index - 1] ?? 0);
    const isStep = Math.abs(to - from) >= least && step * (to - from) >= JUMP_SHARE * (to - from) ** 2;
    return isStep ? [{ at, from_celsius: from, to_celsius: to }] : [];
  });
}

/**
 * Readings in order of their instants.
 * @example probeHealth(readings).noise_celsius // 0.05
 */
export function probeHealth(readings: readonly ProbeSample[]): ProbeHealth {
  const values = readings.map(({ celsius }) => celsius);
  const between = steps(readings);
  const scatter = noise(values);
  const seconds = (millis: number): number | null => (between.length === 0 ? null : millis / 1000);
  return {
    readings: readings.length,
    interval_seconds: seconds(median(between)),
    longestGap_seconds: seconds(between.reduce((most, step) => Math.max(most, step), 0)),
    longestSame_seconds: seconds(longestSame(readings)),
    noise_celsius: scatter,
    spikes: spikes(readings, values),
    jumps: scatter === null ? [] : jumps(readings, values, scatter),
  };
}
