// What a place would have done by now, going by the places around it: a probe that stays the same while they move by more
// than it can overlook is stuck.

import { SimpleLinearRegression } from 'ml-regression-simple-linear';
import { MILLIS_PER_HOUR } from '../../../wax/units.ts';
import { meanOf, TEN_MINUTES_MILLIS, type TenMinutes } from './ten-minutes.ts';

/** Less proves nothing about how far a place follows the others. */
const LEAST_HOURS_BEFORE = 12;
/** Kelvins; where the other one hardly moved, the share is chance. */
const LEAST_RANGE_BEFORE = 1;

const rangeOf = (stretches: readonly TenMinutes[]): number => {
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const stretch of stretches) {
    if (stretch.low < low) low = stretch.low;
    if (stretch.high > high) high = stretch.high;
  }
  return high - low;
};

/** By the median of so many stretches: an airing moves only the place that is aired, and is over within half of them. */
const LEVEL_STRETCHES = 5;
function levelOf(stretches: readonly TenMinutes[]): number {
  const newest = stretches.slice(-LEVEL_STRETCHES).map((stretch) => meanOf(stretch).celsius);
  newest.sort((a, b) => a - b);
  return newest[Math.floor(newest.length / 2)] ?? Number.NaN;
}

/** A place that reached where it is within so long has gone ahead of those that follow the room more slowly. */
const AHEAD_HOURS = 3;

/** Kelvins by which the place had gone up, or down, shortly before: another that moves so afterwards only follows. */
function wentAhead(own: readonly TenMinutes[], since: number, isUp: boolean): number {
  const from = since - AHEAD_HOURS * MILLIS_PER_HOUR;
  const means = own.filter(({ at }) => at >= from).map((stretch) => meanOf(stretch).celsius);
  const last = means.at(-1);
  if (last === undefined) return 0;
  return isUp ? last - Math.min(...means) : Math.max(...means) - last;
}

/**
 * Kelvins that a place should have moved since the instant (epoch milliseconds): as far as another place is from where it was then, times
 * the share of its range that it had in the hours before, less what it was ahead. Null while too little of both is known.
 * @param own closed stretches of the place, oldest first
 * @param around those of the other place
 */
export function expectedMove(
  own: readonly TenMinutes[],
  around: readonly TenMinutes[],
  since: number,
): number | null {
  const isBefore = ({ at }: TenMinutes): boolean => at + TEN_MINUTES_MILLIS <= since;
  const ownBefore = own.filter(isBefore);
  const first = ownBefore[0]?.at ?? since;
  if (since - first < LEAST_HOURS_BEFORE * MILLIS_PER_HOUR) return null;
  const aroundBefore = around.filter((stretch) => isBefore(stretch) && stretch.at >= first);
  const aroundSince = around.filter(({ at }) => at >= since);
  const before = rangeOf(aroundBefore);
  if (aroundSince.length === 0 || !(before >= LEAST_RANGE_BEFORE)) return null;
  const moved = levelOf(aroundSince) - levelOf(aroundBefore);
  const expected = Math.min(1, rangeOf(ownBefore) / before) * Math.abs(moved);
  return Math.max(0, expected - wentAhead(ownBefore, since, moved > 0));
}

/** Below this correlation of their ten-minute means one does not follow the other. Engineering estimate. */
const LEAST_CORRELATION = 0.5;
const FEWEST_PAIRS = 36;

/** Whether another place followed this one, or it the other, in the hours before the instant: air that is regulated follows none. */
export function followedBefore(
  own: readonly TenMinutes[],
  around: readonly TenMinutes[],
  since: number,
): boolean {
  const others = new Map(around.map((stretch) => [stretch.at, meanOf(stretch).celsius]));
  const pairs = own.flatMap((stretch) => {
    const other = stretch.at < since ? others.get(stretch.at) : undefined;
    return other === undefined ? [] : [[meanOf(stretch).celsius, other] as const];
  });
  if (pairs.length < FEWEST_PAIRS) return false;
  const [x, y] = [pairs.map(([first]) => first), pairs.map(([, second]) => second)];
  return new SimpleLinearRegression(x, y).score(x, y).r >= LEAST_CORRELATION;
}
