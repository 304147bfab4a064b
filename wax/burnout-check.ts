// Whether a mould was held warm enough for long enough that no wax is left in it: a check of time at temperature by the
// soak of the maker's programme. It knows no residue and no mould: the thermocouple measures the furnace, not the core.

import { MILLIS_PER_HOUR, MILLIS_PER_MINUTE } from './units.ts';

export interface FurnaceReading {
  /** Milliseconds since 1970. */
  readonly at: number;
  readonly celsius: number;
}

export interface BurnoutProgramme {
  readonly holdCelsius: number;
  readonly holdMinutes: number;
  /** Fastest climb; absent: not limited. */
  readonly rampCelsiusPerHour?: number;
}

export interface BurnoutCheck {
  /** `no-readings`: fewer than two. `below`: the hold was never reached. `short`: not so long without a break. */
  readonly state: 'no-readings' | 'below' | 'short' | 'held';
  /** Longest unbroken time at the hold or above. */
  readonly heldMinutes: number;
  readonly peakCelsius: number | null;
  /** Over ten minutes; null: less than ten minutes are known. */
  readonly steepestCelsiusPerHour: number | null;
  readonly isTooSteep: boolean;
}

/** A longer pause between two readings is a break: nothing is known of it. Common practice. */
const LONGEST_PAUSE_MILLIS = 5 * MILLIS_PER_MINUTE;
const RAMP_MILLIS = 10 * MILLIS_PER_MINUTE;

/** Where the straight line between two readings crosses a temperature. */
const crossing = (from: FurnaceReading, to: FurnaceReading, celsius: number): number =>
  from.at + ((to.at - from.at) * (celsius - from.celsius)) / (to.celsius - from.celsius);

function longestHold(readings: readonly FurnaceReading[], { holdCelsius }: BurnoutProgramme): number {
  let longest = 0;
  let since: number | null = null;
  for (const [index, reading] of readings.entries()) {
    const before = readings[index - 1];
    const isBreak = before === undefined || reading.at - before.at > LONGEST_PAUSE_MILLIS;
    const isHot = reading.celsius >= holdCelsius;
    if (isBreak) since = isHot ? reading.at : null;
    else if (isHot && since === null) since = crossing(before, reading, holdCelsius);
    if (since === null) continue;
    const until = isHot || isBreak ? reading.at : crossing(before, reading, holdCelsius);
    longest = Math.max(longest, until - since);
    if (!isHot) since = null;
  }
  return longest;
}

function steepestClimb(readings: readonly FurnaceReading[]): number | null {
  let steepest: number | null = null;
  let first = 0;
  for (const reading of readings) {
    let start = readings[first];
    while (start !== undefined && reading.at - start.at > RAMP_MILLIS) {
      const rate = ((reading.celsius - start.celsius) * MILLIS_PER_HOUR) / (reading.at - start.at);
      steepest = Math.max(steepest ?? rate, rate);
      first += 1;
      start = readings[first];
    }
  }
  return steepest;
}

/**
 * @param readings of the furnace since the mould went in, oldest first
 * @example burnoutCheck(readings, { holdCelsius: 700, holdMinutes: 30 }).state // 'held'
 */
export function burnoutCheck(readings: readonly FurnaceReading[], programme: BurnoutProgramme): BurnoutCheck {
  const { holdCelsius, holdMinutes, rampCelsiusPerHour = Number.POSITIVE_INFINITY } = programme;
  if (readings.length < 2)
    return {
      ...{ state: 'no-readings', heldMinutes: 0, peakCelsius: null },
      ...{ steepestCelsiusPerHour: null, isTooSteep: false },
    };
  const heldMinutes = longestHold(readings, programme) / MILLIS_PER_MINUTE;
  const peakCelsius = readings.reduce(
    (peak, { celsius }) => Math.max(peak, celsius),
    Number.NEGATIVE_INFINITY,
  );
  const steepest = steepestClimb(readings);
  const state = heldMinutes >= holdMinutes ? 'held' : peakCelsius < holdCelsius ? 'below' : 'short';
  return {
    state,
    heldMinutes,
    peakCelsius,
    steepestCelsiusPerHour: steepest,
    isTooSteep: steepest !== null && steepest > rampCelsiusPerHour,
  };
}
