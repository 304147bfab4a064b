// How fast and how evenly a thermostat switches. What a pot loses to the room and to the work slows its rise as much as
// it hastens its fall: rise and fall together, per minute, are its heater's power over the heat capacity of pot and wax.
// So the pace rises as the wax runs low, and falls where a contact bounces; the tops of a bouncing contact scatter too.

import { MILLIS_PER_HOUR } from '../../../wax/units.ts';
import { areEven } from './even-cycles.ts';
import { type HeatCycle, paceOf, type UsualBand } from './heater-band.ts';
import { upperMedian } from './upper-median.ts';

/** Plain JSON, replaced as a whole when a cycle closes. Paces are natural logarithms of kelvins a minute. */
export interface Rhythm {
  /** Usual pace of cycles as wide as the usual band, its variance, and the windows of cycles that it rests on. */
  readonly pace: number;
  readonly variance: number;
  readonly learned: number;
  /** Windows in a row that were too fast to be learned. */
  readonly unlike: number;
  /** Usual difference of one top from the next, kelvins. */
  readonly scatter: number;
  /** Of `learned`, those whose cycles were alike, as on-off control makes them; absent in states stored before that was counted. */
  readonly even?: number;
}

const WINDOW_CYCLES = 7;
const WINDOW_MILLIS = 4 * MILLIS_PER_HOUR;
/** Of the usual band; a wider cycle follows cold wax or a ladle, a narrower one is cut short. */
const LEAST_WIDTH = 0.6;
const MOST_WIDTH = 1.5;
/** Windows that are learned from whatever they are. */
const FIRST_WINDOWS = 4;
/** After so many windows in a row away from the usual ones theirs is the usual pace: it is kept at another level now. */
const RELEARN_AFTER = 100;
const SETTLED_WINDOWS = 15;
const GAIN_LEAST = 1 / 300;
const SCATTER_GAIN = 0.02;
const FIRST_GAIN = 0.2;
/** What is further from the usual than this is what rules look for, and is not learned. */
const HABIT_DEVIATIONS = 3;
const HABIT_LEAST = 0.1;
const SCATTERED = 3;
const SCATTER_LEAST = 0.3;

const isAsWideAs =
  ({ high, low }: UsualBand) =>
  (cycle: HeatCycle): boolean => {
    const share = (cycle.high - cycle.low) / (high - low);
    return share > LEAST_WIDTH && share < MOST_WIDTH;
  };

/** Distance from the usual pace from which on a pace is unusual; the fewer windows that rests on, the wider. */
const habitOf = ({ learned, variance }: Rhythm): number =>
  Math.max(HABIT_LEAST * (1 + 10 / learned), HABIT_DEVIATIONS * Math.sqrt(variance));

/**
 * Takes in the cycle that closed last.
 * @param cycles the newest ones, oldest first
 * @param learns false while anything at the heater is suspicious
 */
export function rhythmStep(
  rhythm: Rhythm | null,
  cycles: readonly HeatCycle[],
  usual: UsualBand,
  learns: boolean,
): Rhythm | null {
  const newest = cycles.at(-1);
  const window = cycles.slice(-WINDOW_CYCLES);
  if (newest === undefined || newest.at - (window[0]?.at ?? 0) > WINDOW_MILLIS) return rhythm;
  if (window.length < WINDOW_CYCLES) return rhythm;
  const scatter = scatterOf(window);
  const isAsWide = isAsWideAs(usual);
  const whole = cycles.filter(isAsWide).slice(-WINDOW_CYCLES);
  const pace =
    isAsWide(newest) && whole.length === WINDOW_CYCLES && newest.at - (whole[0]?.at ?? 0) <= WINDOW_MILLIS
      ? upperMedian(whole.map(paceOf))
      : null;
  const before = rhythm ?? beginRhythm(pace ?? upperMedian(window.map(paceOf)), scatter);
  if (pace === null) return learns ? { ...before, ...learnScatter(before, scatter) } : before;
  const isUnlike = before.learned >= FIRST_WINDOWS && pace - before.pace > habitOf(before);
  const unlike = isUnlike ? before.unlike + 1 : 0;
  if (unlike >= RELEARN_AFTER) return beginRhythm(pace, scatter);
  if (!learns) return { ...before, unlike };
  const learned = isUnlike ? {} : learnPace(before, pace, areEven(whole));
  return { ...before, unlike, ...learnScatter(before, scatter), ...learned };
}

/** Difference of one top from the next that more than half of them reach: a dip into cold wax makes two large ones. */
const scatterOf = (window: readonly HeatCycle[]): number => {
  const differences = window
    .slice(1)
    .map(({ high }, index) => Math.abs(high - (window[index]?.high ?? high)))
    .sort((a, b) => a - b);
  return differences[Math.floor((differences.length - 1) / 2)] ?? 0;
};

const beginRhythm = (pace: number, scatter: number): Rhythm => ({
  pace,
  variance: 0,
  learned: 0,
  unlike: 0,
  scatter,
  even: 0,
});

function learnScatter(before: Rhythm, scatter: number): Partial<Rhythm> {
  const isNew = before.learned < SETTLED_WINDOWS;
  if (!isNew && scatter > Math.max(SCATTER_LEAST, SCATTERED * before.scatter)) return {};
  const gain = isNew ? FIRST_GAIN : SCATTER_GAIN;
  return { scatter: before.scatter + gain * (scatter - before.scatter) };
}

function learnPace(before: Rhythm, pace: number, isEven: boolean): Partial<Rhythm> {
  const off = pace - before.pace;
  const learned = before.learned + 1;
  const gain = Math.max(1 / learned, GAIN_LEAST);
  return {
    learned,
    pace: before.pace + gain * off,
    variance: learned === 1 ? 0 : before.variance + gain * (off * off - before.variance),
    even: (before.even ?? before.learned) + (isEven ? 1 : 0),
  };
}
