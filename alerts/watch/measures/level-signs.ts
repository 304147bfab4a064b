// What the cycles of a pot's thermostat say of its level, whatever work goes on at it. Less wax has less heat capacity:
// it rises and falls faster, and turns more often. Less wall is wet: the body, which the thermostat feels too, runs
// ahead of the wax, so that the thermostat opens early and the tops of the wax sink while it goes on cycling.

import { MILLIS_PER_HOUR } from '../../../wax/units.ts';
import { type HeatCycle, paceOf } from './heater-band.ts';

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
  /** Upper turning point, °C. */
  readonly top: number;
}

/** Plain JSON, replaced as a whole when a cycle closes. */
export interface LevelSigns {
  readonly pace: Habit;
  readonly turns: Habit;
  readonly top: Habit;
  /** Furthest that tops were below the usual ones of late, kelvins; fades slowly. */
  readonly deepest: number;
  /** The newest windows, oldest first. */
  readonly newest: readonly CycleWindow[];
}

const WINDOW_CYCLES = 7;
const WINDOW_MILLIS = 4 * MILLIS_PER_HOUR;
const KEPT_WINDOWS = 3;
const GAIN_LEAST = 1 / 300;
/** Windows that are learned from whatever they are. */
const FIRST_WINDOWS = 4;
const FIRST_TOPS = 20;
/** What is further from the usual than this is what rules look for, and is not learned. */
const UNUSUAL_LEAST = 0.1;
const UNUSUAL_DEVIATIONS = 3;
const UNUSUAL_FALL = 2.5;
const DEEPEST_FADE = 0.001;

const median = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? 0;

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
    return { pace: begun(pace), turns: begun(turns), top: begun(newest.top), deepest: 0, newest: [newest] };
  const seen = { ...signs, newest: [...signs.newest.slice(1 - KEPT_WINDOWS), newest] };
  if (!learns) return seen;
  // Tops are learned once their window is out of sight, or a slow fall would be taken for a habit while it goes on.
  const settled = signs.newest.length < KEPT_WINDOWS ? null : (signs.newest[0]?.top ?? null);
  const fall = settled === null ? 0 : signs.top.mean - settled;
  const isFallUsual = signs.top.learned < FIRST_TOPS || fall <= UNUSUAL_FALL;
  return {
    ...seen,
    pace: isUnusual(signs.pace, pace) ? signs.pace : learned(signs.pace, pace),
    turns: isUnusual(signs.turns, turns) ? signs.turns : learned(signs.turns, turns),
    ...(settled !== null &&
      isFallUsual && {
        top: learned(signs.top, settled),
        deepest: Math.max((1 - DEEPEST_FADE) * signs.deepest, fall),
      }),
  };
}

function windowOf(cycles: readonly HeatCycle[]): CycleWindow | null {
  const window = cycles.slice(-WINDOW_CYCLES);
  const [first, last] = [window[0], window.at(-1)];
  if (first === undefined || last === undefined || window.length < WINDOW_CYCLES) return null;
  if (last.at - first.at > WINDOW_MILLIS) return null;
  const paces = window.map(paceOf);
  return {
    at: last.at,
    pace: median(paces),
    slowPace: [...paces].sort((a, b) => a - b)[1] ?? 0,
    turns: -median(
      window.map(({ fallSeconds, riseSeconds }) => Math.log((riseSeconds + fallSeconds) / 3600)),
    ),
    top: median(window.map(({ high }) => high)),
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
