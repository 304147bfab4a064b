// The last 26 hours of a station in stretches of ten minutes: what sliding windows, nights and flatness are read
// from. Extremes are never lost; single readings are the store's matter.

import { MILLIS_PER_HOUR, MILLIS_PER_MINUTE } from '../../../wax/units.ts';

export const TEN_MINUTES_MILLIS = 10 * MILLIS_PER_MINUTE;
const HISTORY_HOURS = 26;
/** Two hours, of which a place is calm for ten minutes. */
const CALM_STRETCHES = 12;
const MOST_RANGE = 1;
/** The newest means: of the stretch that closed last, and of the open one. */
export const MEANS_HOURS = 1 / 6;

/** Plain JSON; the open one is advanced in place, a closed one never changes. */
export interface TenMinutes {
  /** Start, a multiple of ten minutes. */
  at: number;
  low: number;
  high: number;
  sum: number;
  count: number;
}

export interface History {
  /** Oldest first; stretches without readings are absent. Replaced as a whole, so that its identity is its version. */
  readonly closed: readonly TenMinutes[];
  readonly open: TenMinutes | null;
}

export interface Extremes {
  readonly low: number;
  readonly high: number;
}

/** The middle of the stretch with the mean of its readings. */
export const meanOf = ({
  at,
  sum,
  count,
}: TenMinutes): { readonly at: number; readonly celsius: number } => ({
  at: at + TEN_MINUTES_MILLIS / 2,
  celsius: sum / count,
});

/** The start of the stretch in which an instant lies. */
export const startOfTenMinutes = (at: number): number => at - (at % TEN_MINUTES_MILLIS);

export const startTenMinutes = (at: number, celsius: number): TenMinutes => ({
  at: startOfTenMinutes(at),
  low: celsius,
  high: celsius,
  sum: celsius,
  count: 1,
});

/** False when the reading belongs to a later stretch. */
export function advanceTenMinutes(open: TenMinutes, at: number, celsius: number): boolean {
  if (at >= open.at + TEN_MINUTES_MILLIS) return false;
  if (celsius < open.low) open.low = celsius;
  if (celsius > open.high) open.high = celsius;
  open.sum += celsius;
  open.count += 1;
  return true;
}

/** The closed stretches with one more; those that are too old are left out. */
export const withClosed = (
  closed: readonly TenMinutes[],
  open: TenMinutes,
  at: number,
): readonly TenMinutes[] => {
  const oldest = startOfTenMinutes(at) - HISTORY_HOURS * MILLIS_PER_HOUR;
  let tooOld = 0;
  while (tooOld < closed.length && (closed[tooOld]?.at ?? 0) < oldest) tooOld += 1;
  const newest = closed.slice(tooOld);
  if (open.at >= oldest) newest.push(open);
  return newest;
};

// The closed stretches change once in ten minutes and are read at every reading.
type Remembered = WeakMap<readonly TenMinutes[], Map<number, Extremes | null>>;
const remembered: Remembered = new WeakMap();
const rememberedMeans: Remembered = new WeakMap();

/** Between two ages in hours before the start of the open stretch; null when there are none. */
function extremesOfClosed(
  closed: readonly TenMinutes[],
  openAt: number,
  olderHours: number,
  youngerHours: number,
  memory = remembered,
  ofStretches = extremesOf,
): Extremes | null {
  // While the closed stretches are the same, so is the start of the open one.
  const key = olderHours * 1000 + youngerHours;
  let answers = memory.get(closed);
  if (answers === undefined) {
    answers = new Map();
    memory.set(closed, answers);
  }
  let extremes = answers.get(key);
  if (extremes === undefined) {
    const from = openAt - olderHours * MILLIS_PER_HOUR;
    const to = openAt - youngerHours * MILLIS_PER_HOUR;
    extremes = ofStretches(closed, from, to);
    answers.set(key, extremes);
  }
  return extremes;
}

/** Of the stretches that begin in this span, from the newest on: most spans are of the last hour. */
function extremesOf(stretches: readonly TenMinutes[], from: number, to: number): Extremes | null {
  let [lowest, highest] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let index = stretches.length - 1; index >= 0; index -= 1) {
    const stretch = stretches[index];
    if (stretch === undefined || stretch.at < from) break;
    if (stretch.at >= to) continue;
    if (stretch.low < lowest) lowest = stretch.low;
    if (stretch.high > highest) highest = stretch.high;
  }
  return lowest > highest ? null : { low: lowest, high: highest };
}

/** Of the means of whole stretches: what lies there follows its air by some minutes. */
function extremesOfMeans(stretches: readonly TenMinutes[], from: number, to: number): Extremes | null {
  let [lowest, highest] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let index = stretches.length - 1; index >= 0; index -= 1) {
    const stretch = stretches[index];
    if (stretch === undefined || stretch.at < from) break;
    if (stretch.at >= to) continue;
    const mean = stretch.sum / stretch.count;
    if (mean < lowest) lowest = mean;
    if (mean > highest) highest = mean;
  }
  return lowest > highest ? null : { low: lowest, high: highest };
}

/** Extremes of the ten-minute means of the last `hours`; the open stretch counts once it has half of the usual readings. */
export function meanExtremesOfLast({ closed, open }: History, hours: number): Extremes | null {
  if (open === null) return null;
  const before = extremesOfClosed(closed, open.at, hours, 0, rememberedMeans, extremesOfMeans);
  const isHalf = 2 * open.count >= (closed.at(-1)?.count ?? Number.POSITIVE_INFINITY);
  if (before === null || !isHalf) return before;
  const { celsius } = meanOf(open);
  return { low: Math.min(before.low, celsius), high: Math.max(before.high, celsius) };
}

/** Kelvins that the calmest of the last closed stretches spans, up to 1 K: what the noise of its probe alone does. */
export function calmestRange({ closed }: History): number {
  let least = MOST_RANGE;
  for (const { high, low } of closed.slice(-CALM_STRETCHES)) least = Math.min(least, high - low);
  return closed.length < CALM_STRETCHES ? 0 : least;
}

/** Extremes of the last `hours`, to ten minutes, the open stretch included. */
export function extremesOfLast({ closed, open }: History, hours: number): Extremes | null {
  if (open === null) return null;
  const before = extremesOfClosed(closed, open.at, hours, 0);
  if (before === null) return open;
  return { low: Math.min(before.low, open.low), high: Math.max(before.high, open.high) };
}

/** Extremes between two ages in hours; the open stretch is left out. */
export const extremesBetween = (
  history: History,
  olderHours: number,
  youngerHours: number,
): Extremes | null =>
  history.open === null ? null : extremesOfClosed(history.closed, history.open.at, olderHours, youngerHours);

/** The same of the ten-minute means, which noise does not move. */
export const meanExtremesBetween = (
  { closed, open }: History,
  olderHours: number,
  youngerHours: number,
): Extremes | null =>
  open === null
    ? null
    : extremesOfClosed(closed, open.at, olderHours, youngerHours, rememberedMeans, extremesOfMeans);

/** Hours that the history reaches back. */
export const hoursOfHistory = ({ closed, open }: History): number => {
  const first = closed[0] ?? open;
  return first === null || open === null ? 0 : (open.at - first.at) / MILLIS_PER_HOUR;
};
