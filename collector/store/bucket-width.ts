// Which bucket width answers a query, and which tiers of rollups its span is made of. Widths are whole multiples
// of each other's tier, and buckets start at whole multiples of the width since 1970, so that a chart that moves
// on by a minute keeps its buckets. Only the first and last bucket may be part of a width.

import { MILLIS_PER_DAY, MILLIS_PER_HOUR, MILLIS_PER_MINUTE, MILLIS_PER_SECOND } from '../../wax/units.ts';

const WIDTHS: readonly number[] = [
  ...[1, 2, 5, 10, 20, 50, 100, 200, 500],
  ...[1, 2, 5, 10, 15, 30].map((count) => count * MILLIS_PER_SECOND),
  ...[1, 2, 5, 10, 15, 30].map((count) => count * MILLIS_PER_MINUTE),
  ...[1, 2, 3, 6, 12].map((count) => count * MILLIS_PER_HOUR),
];

/** No reading is older than 1970 or as new as 2100, so no question need go further. */
const LAST_INSTANT = Date.UTC(2100, 0, 1);

export interface BucketPlan {
  readonly from: number;
  /** Exclusive. */
  readonly to: number;
  readonly width: number;
}

/** Where and how wide the buckets are that answer a query; null when its span is empty. */
export function bucketPlan(query: {
  readonly from: number;
  readonly to: number;
  readonly points: number;
}): BucketPlan | null {
  const from = Math.max(0, query.from);
  const to = Math.min(LAST_INSTANT, query.to);
  return from < to ? { from, to, width: bucketWidth(from, to, query.points) } : null;
}

/** The least width, in milliseconds, that cuts `[from, to)` into at most `points` buckets; `from` is at least 0. */
function bucketWidth(from: number, to: number, points: number): number {
  const most = points >= 1 ? Math.floor(points) : 1;
  const fits = (width: number): boolean =>
    Math.floor((to - 1) / width) - Math.floor(from / width) + 1 <= most;
  const fitting = WIDTHS.find(fits);
  if (fitting !== undefined) return fitting;
  let days = 1;
  while (!fits(days * MILLIS_PER_DAY)) days *= 2;
  return days * MILLIS_PER_DAY;
}

export type Tier = 'raw' | 'minute' | 'hour';

export interface Segment {
  readonly tier: Tier;
  readonly from: number;
  /** Exclusive. */
  readonly to: number;
}

const up = (at: number, step: number): number => Math.ceil(at / step) * step;
const down = (at: number, step: number): number => Math.floor(at / step) * step;

/**
 * The span cut so that whole hours come from the hour tier, whole minutes beside them from the minute tier, and
 * what is left at the edges from the rows: the answer is exact to the millisecond, however wide it is.
 */
export function segments(from: number, to: number, width: number): readonly Segment[] {
  const tiers: readonly (readonly [Tier, number])[] = [
    ['hour', MILLIS_PER_HOUR],
    ['minute', MILLIS_PER_MINUTE],
  ];
  const usable = tiers.filter(([, step]) => width % step === 0);
  const cut = (start: number, end: number, coarser: typeof usable): readonly Segment[] => {
    if (start >= end) return [];
    const [first, ...finer] = coarser;
    if (first === undefined) return [{ tier: 'raw', from: start, to: end }];
    const [tier, step] = first;
    const [inner, outer] = [up(start, step), down(end, step)];
    if (inner >= outer) return cut(start, end, finer);
    return [...cut(start, inner, finer), { tier, from: inner, to: outer }, ...cut(outer, end, finer)];
  };
  return cut(from, to, usable);
}
