// Which bucket width answers a query. Buckets start at whole multiples of the width since 1970, so that a chart that
// moves on by a minute keeps its buckets. Only the first and last bucket may be part of a width.

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
