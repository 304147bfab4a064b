// Whether a mould was held warm enough for long enough that no wax is left in it: a check of time at temperature by the
// steps of the maker's programme. Residue and mould are not in it: the thermocouple measures the furnace, not the core.

import { isTemperature, isWithin } from '../reading-guard.ts';
import { MILLIS_PER_HOUR, MILLIS_PER_MINUTE } from '../units.ts';

export interface FurnaceReading {
  /** Milliseconds since 1970. */
  readonly at: number;
  readonly celsius: number;
}

export interface BurnoutStep {
  readonly holdCelsius: number;
  readonly holdMinutes: number;
  /** Fastest climb to it; absent: not limited. */
  readonly rampCelsiusPerHour?: number;
}

export interface BurnoutStepCheck {
  /** `no-readings`: fewer than two. `below`: the hold was never reached. `short`: not so long without a break. */
  readonly state: 'no-readings' | 'below' | 'short' | 'held';
  /** Longest unbroken time at the hold. */
  readonly heldMinutes: number;
  /** On the way to it, over ten minutes; null: less than ten minutes are known. */
  readonly steepestCelsiusPerHour: number | null;
  readonly isTooSteep: boolean;
}

export interface BurnoutCheck extends BurnoutStepCheck {
  readonly peakCelsius: number | null;
  /** One for each step of the programme; what is beside them is of the first that was not held, else of the last. */
  readonly steps: readonly BurnoutStepCheck[];
}

/** A longer pause between two readings is a break: nothing is known of it. Common practice. */
const LONGEST_PAUSE_MILLIS = 5 * MILLIS_PER_MINUTE;
const RAMP_MILLIS = 10 * MILLIS_PER_MINUTE;
/**
 * So far below the hold still counts as held: a furnace's control cycles, and a thermocouple of type K may be off by
 * 0.75 % (class 2, 5 K at 700 °C; IEC 60584-1, from memory). Common practice.
 */
const BELOW_HOLD_KELVINS = 10;
/** So far above the hold the furnace has gone on to the next, hotter step. Common practice. */
const ABOVE_HOLD_KELVINS = 30;

/** The temperatures that count as one hold. */
interface HoldBand {
  readonly least: number;
  readonly most: number;
}

/** The last step has no upper end unless it is reached by cooling: hotter for longer burns out more. */
function bandOf(programme: readonly BurnoutStep[], index: number): HoldBand {
  const [before, step, next] = [programme[index - 1], programme[index], programme[index + 1]];
  const hold = step?.holdCelsius ?? 0;
  const neighbours = [before, next].flatMap((step) => (step === undefined ? [] : [step.holdCelsius]));
  const isCapped = neighbours.some((celsius) => celsius > hold);
  const nearest = neighbours.reduce(
    (least, celsius) => Math.min(least, celsius === hold ? least : Math.abs(celsius - hold) / 2),
    ABOVE_HOLD_KELVINS,
  );
  return {
    least: hold - Math.min(BELOW_HOLD_KELVINS, nearest),
    most: isCapped ? hold + nearest : Number.POSITIVE_INFINITY,
  };
}

const isInside = ({ celsius }: FurnaceReading, { least, most }: HoldBand): boolean =>
  celsius >= least && celsius <= most;

/** Where the straight line between two readings passes the end of the band that lies between them. */
function crossing(from: FurnaceReading, to: FurnaceReading, { least, most }: HoldBand): number {
  const outside = isInside(from, { least, most }) ? to : from;
  const end = outside.celsius < least ? least : most;
  return from.at + ((to.at - from.at) * (end - from.celsius)) / (to.celsius - from.celsius);
}

interface Hold {
  readonly millis: number;
  /** Index of the reading with which the furnace left for the next step; the number of readings where it did not. */
  readonly leftAt: number;
}

/** The longest unbroken stay in the band, up to where the furnace goes on to `next`. */
function longestHold(
  readings: readonly FurnaceReading[],
  start: number,
  band: HoldBand,
  next: number | null,
): Hold {
  let longest = 0;
  let since: number | null = null;
  let hasReached = false;
  for (let index = start; index < readings.length; index += 1) {
    const reading = readings[index];
    if (reading === undefined) break;
    const before = index > start ? readings[index - 1] : undefined;
    const isBreak = before === undefined || reading.at - before.at > LONGEST_PAUSE_MILLIS;
    const isHeld = isInside(reading, band);
    hasReached ||= isHeld;
    if (isBreak) since = isHeld ? reading.at : null;
    else if (isHeld && since === null) since = crossing(before, reading, band);
    if (since !== null) {
      const until = isHeld || isBreak ? reading.at : crossing(before, reading, band);
      longest = Math.max(longest, until - since);
      if (!isHeld) since = null;
    }
    const isTowardsNext =
      next !== null && (next > band.least ? reading.celsius > band.most : reading.celsius < band.least);
    if (!isHeld && isTowardsNext && (hasReached || next > band.least))
      return { millis: longest, leftAt: index };
  }
  return { millis: longest, leftAt: readings.length };
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

const NOTHING_KNOWN: BurnoutStepCheck = {
  state: 'no-readings',
  heldMinutes: 0,
  steepestCelsiusPerHour: null,
  isTooSteep: false,
};

const refuseProgramme = (programme: readonly BurnoutStep[]): void => {
  const isUsable = ({ holdCelsius, holdMinutes, rampCelsiusPerHour = 0 }: BurnoutStep): boolean =>
    isTemperature(holdCelsius) && isWithin(holdMinutes, 0) && isWithin(rampCelsiusPerHour, 0);
  if (programme.length === 0 || !programme.every(isUsable))
    throw new RangeError(`burnoutCheck: ${JSON.stringify(programme)} is no programme`);
};

/**
 * @param given readings of the furnace since the mould went in, oldest first; what is no temperature is left out
 * @param programme steps in the order in which the furnace goes through them, at least one
 * @throws RangeError for a programme without steps, or with a step that is not of numbers
 * @example burnoutCheck(readings, [{ holdCelsius: 250, holdMinutes: 30 }, { holdCelsius: 700, holdMinutes: 30 }]).state // 'held'
 */
export function burnoutCheck(
  given: readonly FurnaceReading[],
  programme: readonly BurnoutStep[],
): BurnoutCheck {
  refuseProgramme(programme);
  const readings = given.filter(({ at, celsius }) => Number.isFinite(at) && isTemperature(celsius));
  if (readings.length < 2)
    return { ...NOTHING_KNOWN, peakCelsius: null, steps: programme.map(() => NOTHING_KNOWN) };
  let start = 0;
  const steps = programme.map((step, index): BurnoutStepCheck => {
    const { holdMinutes, rampCelsiusPerHour = Number.POSITIVE_INFINITY } = step;
    const band = bandOf(programme, index);
    const { millis, leftAt } = longestHold(readings, start, band, programme[index + 1]?.holdCelsius ?? null);
    const own = readings.slice(start, leftAt);
    start = Math.max(start, leftAt - 1);
    const heldMinutes = millis / MILLIS_PER_MINUTE;
    const isReached = own.some(({ celsius }) => celsius >= band.least && celsius <= band.most);
    const steepest = steepestClimb(own);
    return {
      state: isReached && heldMinutes >= holdMinutes ? 'held' : isReached ? 'short' : 'below',
      heldMinutes,
      steepestCelsiusPerHour: steepest,
      isTooSteep: steepest !== null && steepest > rampCelsiusPerHour,
    };
  });
  const decisive = steps.find(({ state }) => state !== 'held') ?? steps.at(-1) ?? NOTHING_KNOWN;
  const tooSteep = steps.find(({ isTooSteep }) => isTooSteep) ?? decisive;
  return {
    ...decisive,
    steepestCelsiusPerHour: tooSteep.steepestCelsiusPerHour,
    isTooSteep: tooSteep.isTooSteep,
    peakCelsius: readings.reduce((peak, { celsius }) => Math.max(peak, celsius), Number.NEGATIVE_INFINITY),
    steps,
  };
}
