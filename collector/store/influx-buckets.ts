// Questions to an InfluxDB server for buckets of one probe, from its readings or from the figures of its hours.

import type { EpochMillis } from '../../wax/units.ts';
import type { BucketPlan } from './bucket-width.ts';
import { HOUR_MEASUREMENT, type InfluxServer, MEASUREMENT } from './influx-server.ts';
import type { SeriesBucket } from './store.ts';

/** The server counts nanoseconds in 64 bits and refuses an instant beyond them, about the years 1677 and 2262. */
const FURTHEST_MILLIS = 9.2e12;
export const timeSpan = (from: number, to: number): string =>
  `time >= ${Math.max(-FURTHEST_MILLIS, Math.round(from))}ms AND time < ${Math.min(FURTHEST_MILLIS, Math.round(to))}ms`;

/** Starts of buckets are those of whole widths. */
export async function bucketsOfReadings(
  server: InfluxServer,
  probe: string,
  { from, to, width }: BucketPlan,
): Promise<readonly SeriesBucket[]> {
  const series = await server.query(
    `SELECT min("celsius"), max("celsius"), mean("celsius"), count("celsius"), count("quality") FROM "${MEASUREMENT}"
     WHERE ${server.seriesOf(probe)} AND ${timeSpan(from, to)} GROUP BY time(${width}ms) fill(none)`,
  );
  return (series?.values ?? []).map(([at, min, max, mean, count, doubtful]) => ({
    at: Number(at) as EpochMillis,
    min: Number(min),
    max: Number(max),
    mean: Number(mean),
    count: Number(count),
    doubtful: Number(doubtful ?? 0),
  }));
}

/** The same from whole hours. */
export async function bucketsOfHours(
  server: InfluxServer,
  probe: string,
  { from, to, width }: BucketPlan,
): Promise<readonly SeriesBucket[]> {
  const series = await server.query(
    `SELECT min("low"), max("high"), sum("total"), sum("count"), sum("doubtful") FROM "${HOUR_MEASUREMENT}"
     WHERE ${server.seriesOf(probe)} AND ${timeSpan(from, to)} GROUP BY time(${width}ms) fill(none)`,
  );
  return (series?.values ?? []).map(([at, low, high, total, count, doubtful]) => ({
    at: Number(at) as EpochMillis,
    min: Number(low),
    max: Number(high),
    mean: Number(total) / Number(count),
    count: Number(count),
    doubtful: Number(doubtful ?? 0),
  }));
}

/** Instant of the newest reading before; null when there is none. */
export async function newestBefore(server: InfluxServer, probe: string, to: number): Promise<number | null> {
  const series = await server.query(
    `SELECT last("celsius") FROM "${MEASUREMENT}" WHERE ${server.seriesOf(probe)} AND ${timeSpan(0, to)}`,
  );
  const [at] = series?.values[0] ?? [];
  return at === undefined || at === null ? null : Number(at);
}

/** Parts of one bucket made one, oldest first; the first bucket starts no earlier than the plan. */
export function mergeBuckets(parts: readonly SeriesBucket[], { from }: BucketPlan): readonly SeriesBucket[] {
  const whole = new Map<number, SeriesBucket>();
  for (const part of parts) {
    const before = whole.get(part.at);
    whole.set(part.at, before === undefined ? part : joinBuckets(before, part));
  }
  return [...whole.values()]
    .sort((a, b) => a.at - b.at)
    .map((bucket) => ({
      ...bucket,
      at: Math.max(bucket.at, from) as EpochMillis,
      mean: Math.min(bucket.max, Math.max(bucket.min, bucket.mean)),
    }));
}

function joinBuckets(a: SeriesBucket, b: SeriesBucket): SeriesBucket {
  const count = a.count + b.count;
  return {
    at: a.at,
    min: Math.min(a.min, b.min),
    max: Math.max(a.max, b.max),
    mean: (a.mean * a.count + b.mean * b.count) / count,
    count,
    doubtful: a.doubtful + b.doubtful,
  };
}
