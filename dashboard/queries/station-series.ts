// Readings of a station over a span, put together from its probes by the store's own downsampling.

import type { SeriesBucket } from '../../collector/store/store.ts';
import type { Station } from '../../lab/station.ts';
import { STATION_KIND_FACTS } from '../../lab/station-kinds.ts';
import type { EpochMillis } from '../../wax/units.ts';
import { staysIn } from './probe-places.ts';
import type { RunningLab } from './running-lab.ts';

/** Several probes in one place: the hottest counts at a heater, the weighted mean elsewhere, as in the status of the station. */
const joinProbes = (
  kind: Station['kind'],
  at: EpochMillis,
  buckets: readonly SeriesBucket[],
): SeriesBucket => {
  const count = buckets.reduce((sum, bucket) => sum + bucket.count, 0);
  return {
    at,
    min: Math.min(...buckets.map(({ min }) => min)),
    max: Math.max(...buckets.map(({ max }) => max)),
    mean:
      STATION_KIND_FACTS[kind].combinesProbes === 'hottest'
        ? Math.max(...buckets.map(({ mean }) => mean))
        : buckets.reduce((sum, { mean, count: weight }) => sum + mean * weight, 0) / count,
    count,
    doubtful: buckets.reduce((sum, bucket) => sum + bucket.doubtful, 0),
  };
};

/** Oldest first; by the probes that were there, each in its time: a swapped probe leaves its history behind. */
export const stationSeries = async (
  running: RunningLab,
  station: Station,
  span: { readonly from: EpochMillis; readonly to: EpochMillis; readonly points: number },
): Promise<readonly SeriesBucket[]> => {
  const series = await Promise.all(
    staysIn(running, station.id, span).map(async (stay) => {
      const buckets = await running.store.buckets({ probe: stay.probe, ...span });
      return stay.from <= span.from && stay.to >= span.to
        ? buckets
        : buckets.filter(({ at }) => (at >= stay.from || stay.from <= span.from) && at < stay.to);
    }),
  );
  const byStart = new Map<EpochMillis, SeriesBucket[]>();
  for (const bucket of series.flat()) {
    const same = byStart.get(bucket.at);
    if (same === undefined) byStart.set(bucket.at, [bucket]);
    else same.push(bucket);
  }
  return [...byStart.entries()]
    .sort(([a], [b]) => a - b)
    .map(([at, buckets]) => joinProbes(station.kind, at, buckets));
};
