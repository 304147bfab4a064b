// What the cycles of a pot's thermostat show of its level. Less wax has less heat capacity: it rises and falls faster,
// whatever is lost to the room. Work at the pot hastens its cycles too, so only calm ones count, at which nobody was; how
// far these went on the days before shows what else is ordinary use.

import { MILLIS_PER_HOUR } from '../../../wax/units.ts';
import { type FurthestOfDays, furthestStep, startFurthest } from './furthest-of-days.ts';
import { type HeatCycle, paceOf, type UsualBand } from './heater-band.ts';
import { type Quickening, quickeningStep } from './quickening.ts';
import { upperMedian } from './upper-median.ts';

/** Usual value of something with its variance and what it rests on. Plain JSON. */
export interface Habit {
  readonly mean: number;
  readonly variance: number;
  readonly learned: number;
}

/** Medians of the newest calm cycles. */
export interface CycleWindow {
  readonly at: number;
  /** Natural logarithm of rise and fall together, kelvins a minute. */
  readonly pace: number;
  /** That of its second slowest cycle. */
  readonly slowPace: number;
  /** Natural logarithm of the cycles an hour. */
  readonly turns: number;
}

/** Plain JSON, replaced as a whole when a cycle closes. */
export interface LevelSigns {
  readonly pace: Habit;
  readonly turns: Habit;
  /** How much faster than usual all of the newest windows were, logarithm; absent in states stored before that was measured. */
  readonly worked?: FurthestOfDays;
  /** Usual pace of its first windows, which no fill that ran low has hastened yet; absent in states stored before it was kept. */
  readonly first?: Habit;
  /** Absent in states stored before it was measured. */
  readonly quickening?: Quickening;
  /** The newest windows, oldest first. */
  readonly newest: readonly CycleWindow[];
}

/** Of the usual band: a narrower cycle is cut short, as while wax melts again after a pause. */
const LEAST_WIDTH = 0.6;
const WINDOW_CYCLES = 7;
const WINDOW_MILLIS = 4 * MILLIS_PER_HOUR;
const KEPT_WINDOWS = 3;
const GAIN_LEAST = 1 / 300;
/** Windows that are learned from whatever they are. */
const FIRST_WINDOWS = 4;
/** Windows whose pace is that of its first fill. */
const FIRST_OF_ALL = 6;
/** What is further from the usual than this is what rules look for, and is not learned. */
const UNUSUAL_LEAST = 0.1;
const UNUSUAL_DEVIATIONS = 3;

/**
 * Takes in the cycle that closed last.
 * @param cycles the newest ones, oldest first
 * @param learns false while anything at the heater is suspicious
 */
export function levelSignsStep(
  signs: LevelSigns | null,
  cycles: readonly HeatCycle[],
  usual: UsualBand | null,
  learns: boolean,
): LevelSigns | null {
  const leastWidth = usual === null ? 0 : LEAST_WIDTH * (usual.high - usual.low);
  const calm = cycles.filter(({ disturbed, high, low }) => !disturbed && high - low > leastWidth);
  const newest = windowOf(calm);
  if (newest === null || calm.at(-1) !== cycles.at(-1)) return signs;
  const { at, pace, turns } = newest;
  if (signs === null)
    return {
      pace: beginHabit(pace),
      turns: beginHabit(turns),
      first: beginHabit(pace),
      worked: startFurthest(at),
      newest: [newest],
    };
  const seen = {
    ...signs,
    quickening: quickeningStep(signs.quickening, calm),
    newest: [...signs.newest.slice(1 - KEPT_WINDOWS), newest],
  };
  if (!learns) return seen;
  return {
    ...seen,
    pace: isUnusual(signs.pace, pace) ? signs.pace : learnValue(signs.pace, pace),
    turns: isUnusual(signs.turns, turns) ? signs.turns : learnValue(signs.turns, turns),
    ...(signs.first !== undefined &&
      signs.first.learned < FIRST_OF_ALL && { first: learnValue(signs.first, pace) }),
    worked: furthestStep(signs.worked ?? startFurthest(at), at, fasterBy(seen), UNUSUAL_LEAST, at),
  };
}

/** Logarithm of how much faster than usual all of the newest windows are; nil while the usual pace is not known. */
export const fasterBy = ({ newest, pace }: LevelSigns): number =>
  pace.learned < FIRST_WINDOWS ? 0 : Math.min(...newest.map((window) => window.pace)) - pace.mean;

/** The same against its first windows: the usual pace follows wax that is used up hour by hour; nil while they are not known. */
export const fasterThanFirst = ({ first, newest }: LevelSigns): number =>
  first === undefined || first.learned < FIRST_OF_ALL
    ? 0
    : Math.min(...newest.map((window) => window.pace)) - first.mean;

function windowOf(cycles: readonly HeatCycle[]): CycleWindow | null {
  const window = cycles.slice(-WINDOW_CYCLES);
  const [first, last] = [window[0], window.at(-1)];
  if (first === undefined || last === undefined || window.length < WINDOW_CYCLES) return null;
  if (last.at - first.at > WINDOW_MILLIS) return null;
  const paces = window.map(paceOf);
  return {
    at: last.at,
    pace: upperMedian(paces),
    slowPace: [...paces].sort((a, b) => a - b)[1] ?? 0,
    turns: -upperMedian(
      window.map(({ fallSeconds, riseSeconds }) => Math.log((riseSeconds + fallSeconds) / 3600)),
    ),
  };
}

const beginHabit = (mean: number): Habit => ({ mean, variance: 0, learned: 1 });

/** The fewer windows the usual rests on, the further from it something unusual is: so many times as far. */
export const unsureTimes = ({ learned }: Habit): number => 1 + 10 / learned;

const isUnusual = (habit: Habit, value: number): boolean =>
  habit.learned >= FIRST_WINDOWS &&
  value - habit.mean >
    Math.max(UNUSUAL_LEAST * unsureTimes(habit), UNUSUAL_DEVIATIONS * Math.sqrt(habit.variance));

function learnValue(habit: Habit, value: number): Habit {
  const count = habit.learned + 1;
  const gain = Math.max(1 / count, GAIN_LEAST);
  const off = value - habit.mean;
  return {
    mean: habit.mean + gain * off,
    variance: habit.variance + gain * (off * off - habit.variance),
    learned: count,
  };
}
