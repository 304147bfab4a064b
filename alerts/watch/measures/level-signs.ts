// What the cycles of a pot's thermostat say of its level, whatever work goes on at it. Less wax has less heat capacity:
// it rises and falls faster, and turns more often. Less wall is wet: the body, which the thermostat feels too, runs
// ahead of the wax, so that the thermostat opens early and the wax swings lower while it goes on cycling. Work does the
// same for a while; how far it did on earlier days says what is work.

import { MILLIS_PER_HOUR } from '../../../wax/units.ts';
import { type HeatCycle, paceOf } from './heater-band.ts';
import { upperMedian } from './upper-median.ts';

/** Usual value of something with its variance and what it rests on. Plain JSON. */
export interface Habit {
  readonly mean: number;
  readonly variance: number;
  readonly learned: number;
}

/** Medians of the newest cycles. */
export interface CycleWindow {
  readonly at: number;
  /** Natural logarithm of rise and fall together, kelvins a minute. */
  readonly pace: number;
  /** That of its second slowest cycle. */
  readonly slowPace: number;
  /** Natural logarithm of the cycles an hour. */
  readonly turns: number;
  /** Middle between the turning points, °C. */
  readonly middle: number;
}

/** How far work took its swings at most. */
export interface WorkExtremes {
  /** Kelvins that their middle was below the usual one. */
  readonly sunk: number;
  /** Logarithm of how much faster than usual it rose and fell. */
  readonly faster: number;
}

/** What the middle of its swings is usually, and how far work takes them. */
export interface WorkHabit {
  readonly middle: Habit;
  /** Since when today counts; a day is over after 16 h. */
  readonly since: number;
  readonly today: WorkExtremes;
  /** Days before it that are over, and the furthest of them, fading slowly. */
  readonly days: number;
  readonly before: WorkExtremes;
}

/** Plain JSON, replaced as a whole when a cycle closes. */
export interface LevelSigns {
  readonly pace: Habit;
  readonly turns: Habit;
  /** Absent in states stored before that was measured. */
  readonly work?: WorkHabit;
  /** The newest windows, oldest first. */
  readonly newest: readonly CycleWindow[];
}

const WINDOW_CYCLES = 7;
const WINDOW_MILLIS = 4 * MILLIS_PER_HOUR;
const KEPT_WINDOWS = 3;
const GAIN_LEAST = 1 / 300;
/** Windows that are learned from whatever they are. */
const FIRST_WINDOWS = 4;
/** What is further from the usual than this is what rules look for, and is not learned. */
const UNUSUAL_LEAST = 0.1;
const UNUSUAL_DEVIATIONS = 3;
/** Windows before what work does to the swings is measured; one further off than this many kelvins is no habit. */
const FIRST_MIDDLES = 7;
const UNUSUAL_MIDDLE = 2.5;
const DAY_MILLIS = 16 * MILLIS_PER_HOUR;
const DAY_FADE = 0.9;
const NO_WORK: WorkExtremes = { sunk: 0, faster: 0 };

/** Distance from what is usual from which on it is unusual; the fewer windows that rests on, the wider. */
export const unusualFrom = ({ learned, variance }: Habit, deviations: number, least: number): number =>
  Math.max(least * (1 + 10 / learned), deviations * Math.sqrt(variance));

/**
 * Takes in the cycle that closed last.
 * @param cycles the newest ones, oldest first
 * @param learns false while anything at the heater is suspicious
 */
export function levelSignsStep(
  signs: LevelSigns | null,
  cycles: readonly HeatCycle[],
  learns: boolean,
): LevelSigns | null {
  const newest = windowOf(cycles);
  if (newest === null) return signs;
  const { pace, turns } = newest;
  if (signs === null)
    return { pace: begun(pace), turns: begun(turns), work: begunWork(newest), newest: [newest] };
  const seen = { ...signs, newest: [...signs.newest.slice(1 - KEPT_WINDOWS), newest] };
  if (!learns) return seen;
  return {
    ...seen,
    pace: isUnusual(signs.pace, pace) ? signs.pace : learned(signs.pace, pace),
    turns: isUnusual(signs.turns, turns) ? signs.turns : learned(signs.turns, turns),
    work: signs.work === undefined ? begunWork(newest) : learnedWork(signs.work, seen.newest, signs.pace),
  };
}

const begunWork = ({ at, middle }: CycleWindow): WorkHabit => ({
  middle: begun(middle),
  since: at,
  today: NO_WORK,
  days: 0,
  before: NO_WORK,
});

/** What all of the newest windows have in common: a single lump of cold wax is no work that lasts. */
export function lastingExtremes(
  { middle }: WorkHabit,
  usualPace: Habit,
  newest: readonly CycleWindow[],
): WorkExtremes {
  return {
    sunk: middle.mean - Math.max(...newest.map((window) => window.middle)),
    faster: Math.min(...newest.map((window) => window.pace)) - usualPace.mean,
  };
}

function learnedWork(work: WorkHabit, newest: readonly CycleWindow[], usualPace: Habit): WorkHabit {
  const { at = work.since, middle = work.middle.mean } = newest.at(-1) ?? {};
  const isNewDay = at - work.since >= DAY_MILLIS;
  const isFirst = work.middle.learned < FIRST_MIDDLES;
  const most = isFirst ? NO_WORK : lastingExtremes(work, usualPace, newest);
  return {
    middle:
      isFirst || Math.abs(work.middle.mean - middle) <= UNUSUAL_MIDDLE
        ? learned(work.middle, middle)
        : work.middle,
    since: isNewDay ? at : work.since,
    today: furthest(isNewDay ? NO_WORK : work.today, most),
    days: work.days + (isNewDay ? 1 : 0),
    before: isNewDay ? furthest(faded(work.before), work.today) : work.before,
  };
}

const furthest = (first: WorkExtremes, second: WorkExtremes): WorkExtremes => ({
  sunk: Math.max(first.sunk, second.sunk),
  faster: Math.max(first.faster, second.faster),
});
const faded = ({ sunk, faster }: WorkExtremes): WorkExtremes => ({
  sunk: DAY_FADE * sunk,
  faster: DAY_FADE * faster,
});

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
    middle: upperMedian(window.map(({ high, low }) => (high + low) / 2)),
  };
}

const begun = (mean: number): Habit => ({ mean, variance: 0, learned: 1 });

const isUnusual = (habit: Habit, value: number): boolean =>
  habit.learned >= FIRST_WINDOWS &&
  value - habit.mean > unusualFrom(habit, UNUSUAL_DEVIATIONS, UNUSUAL_LEAST);

function learned(habit: Habit, value: number): Habit {
  const count = habit.learned + 1;
  const gain = Math.max(1 / count, GAIN_LEAST);
  const off = value - habit.mean;
  return {
    mean: habit.mean + gain * off,
    variance: habit.variance + gain * (off * off - habit.variance),
    learned: count,
  };
}
