// From buckets to what the chart draws: gaps stay gaps, the extremes of a bucket stay visible as a band, and the
// span is told in figures for those who do not see the picture. Pure.

import type { ReadingsView } from '../../../api/schemas.ts';

export interface Point {
  readonly x: number;
  readonly y: number | null;
}

export interface Series {
  readonly mean: readonly Point[];
  readonly min: readonly Point[];
  readonly max: readonly Point[];
}

/** A pause of more buckets than this is a gap. */
const GAP_BUCKETS = 2.5;
/** Probes send every few seconds to a minute; a shorter pause than this is none. */
const LEAST_GAP_MILLIS = 150_000;

const gapMillis = (readings: ReadingsView): number =>
  Math.max(LEAST_GAP_MILLIS, readings.bucketSeconds * 1000 * GAP_BUCKETS);

export const chartSeries = (readings: ReadingsView, convert: (celsius: number) => number): Series => {
  const mean: Point[] = [];
  const min: Point[] = [];
  const max: Point[] = [];
  let before = Number.POSITIVE_INFINITY;
  for (const bucket of readings.buckets) {
    const x = Date.parse(bucket.at);
    if (x - before > gapMillis(readings))
      for (const points of [mean, min, max]) points.push({ x: (x + before) / 2, y: null });
    mean.push({ x, y: convert(bucket.mean) });
    min.push({ x, y: convert(bucket.min) });
    max.push({ x, y: convert(bucket.max) });
    before = x;
  }
  return { mean, min, max };
};

export interface SpanFigures {
  readonly min: number;
  readonly max: number;
  readonly mean: number;
  readonly gaps: number;
  readonly count: number;
}

/** Over all buckets, degrees Celsius; null when there is nothing. */
export const spanFigures = (readings: ReadingsView): SpanFigures | null => {
  const { buckets } = readings;
  if (buckets.length === 0) return null;
  const count = buckets.reduce((sum, bucket) => sum + bucket.count, 0);
  const total = buckets.reduce((sum, bucket) => sum + bucket.mean * bucket.count, 0);
  const limit = gapMillis(readings);
  const gaps = buckets.filter((bucket, index) => {
    const previous = buckets[index - 1];
    return previous !== undefined && Date.parse(bucket.at) - Date.parse(previous.at) > limit;
  }).length;
  return {
    min: Math.min(...buckets.map((bucket) => bucket.min)),
    max: Math.max(...buckets.map((bucket) => bucket.max)),
    mean: total / count,
    gaps,
    count,
  };
};
