// The last 26 hours of a station in buckets of ten minutes: what sliding windows, nights and flatness are read
// from. Extremes of a bucket are never lost; single readings are the store's matter.

import { MILLIS_PER_HOUR, MILLIS_PER_MINUTE } from '../../../wax/units.ts';

export const PAST_BUCKET_MILLIS = 10 * MILLIS_PER_MINUTE;
const PAST_HOURS = 26;

export interface Bucket {
  /** Start, a multiple of ten minutes. */
  readonly at: number;
  readonly low: number;
  readonly high: number;
  readonly sum: number;
  readonly count: number;
}

export interface Past {
  /** Oldest first; buckets without readings are absent. Replaced as a whole, so that its identity is its version. */
  readonly closed: readonly Bucket[];
  readonly open: Bucket | null;
}

export interface Span {
  readonly low: number;
  readonly high: number;
}

/** The middle of a bucket with the mean of its readings. */
export const bucketMean = ({
  at,
  sum,
  count,
}: Bucket): { readonly at: number; readonly celsius: number } => ({
  at: at + PAST_BUCKET_MILLIS / 2,
  celsius: sum / count,
});

const bucketStart = (at: number): number => at - (at % PAST_BUCKET_MILLIS);

/** Takes one reading in; readings come in order of time. */
export function pastStep(past: Past, at: number, celsius: number): Past {
  const { open } = past;
  const start = bucketStart(at);
  if (open === null || start > open.at)
    return {
      closed: open === null ? past.closed : trimmed([...past.closed, open], start),
      open: { at: start, low: celsius, high: celsius, sum: celsius, count: 1 },
    };
  return {
    closed: past.closed,
    open: {
      at: open.at,
      low: Math.min(open.low, celsius),
      high: Math.max(open.high, celsius),
      sum: open.sum + celsius,
      count: open.count + 1,
    },
  };
}

const trimmed = (buckets: readonly Bucket[], now: number): readonly Bucket[] => {
  const oldest = now - PAST_HOURS * MILLIS_PER_HOUR;
  return buckets.filter((bucket) => bucket.at >= oldest);
};

// The closed buckets change once in ten minutes and are asked at every reading.
const remembered = new WeakMap<readonly Bucket[], Map<number, Span | null>>();

/** Between two ages in hours before the open bucket's start; null when there are no buckets. */
function closedSpan(
  closed: readonly Bucket[],
  openAt: number,
  olderHours: number,
  youngerHours: number,
): Span | null {
  // While the closed buckets are the same, so is the start of the open one.
  const key = olderHours * 1000 + youngerHours;
  let spans = remembered.get(closed);
  if (spans === undefined) {
    spans = new Map();
    remembered.set(closed, spans);
  }
  let found = spans.get(key);
  if (found === undefined) {
    found = null;
    const from = openAt - olderHours * MILLIS_PER_HOUR;
    const to = openAt - youngerHours * MILLIS_PER_HOUR;
    for (const bucket of closed)
      if (bucket.at >= from && bucket.at < to)
        found =
          found === null
            ? { low: bucket.low, high: bucket.high }
            : { low: Math.min(found.low, bucket.low), high: Math.max(found.high, bucket.high) };
    spans.set(key, found);
  }
  return found;
}

/** Extremes of the last `hours`, to ten minutes, the open bucket included. */
export function spanOfLast(past: Past, hours: number): Span | null {
  const { open } = past;
  if (open === null) return null;
  const before = closedSpan(past.closed, open.at, hours, 0);
  if (before === null) return open;
  return { low: Math.min(before.low, open.low), high: Math.max(before.high, open.high) };
}

/** Extremes between two ages in hours; the open bucket is left out. */
export const spanBetween = (past: Past, olderHours: number, youngerHours: number): Span | null =>
  past.open === null ? null : closedSpan(past.closed, past.open.at, olderHours, youngerHours);

/** Hours that the buckets reach back. */
export const hoursOfPast = (past: Past): number => {
  const first = past.closed[0] ?? past.open;
  return first === null || past.open === null ? 0 : (past.open.at - first.at) / MILLIS_PER_HOUR;
};
