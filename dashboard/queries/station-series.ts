// Readings of a station over a span, put together from its probes by the store's own downsampling.

import type { SeriesBucket } from '../../collector/store/store.ts';
import type { Station } from '../../lab/station.ts';
import { STATION_KIND_FACTS } from '../../lab/station-kinds.ts';
import type { ProbePeriod } from '../../lab/settings-history.ts';
import type { EpochMillis } from '../../wax/units.ts';
import type { RunningLab } from './running-lab.ts';

/** Several probes in one place: the hottest decides at a heater, the weighted mean elsewhere, as in the status of the station. */
const together = (kind: Station['kind'], at: EpochMillis, buckets: readonly SeriesBucket[]): SeriesBucket => {
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

/** Oldest first; by the probes that measured there, each in its time. Without `probes` by those of today. */
export const stationSeries = async (
  running: RunningLab,
  station: Station,
  span: { readonly from: EpochMillis; readonly to: EpochMillis; readonly points: number },
  probes?: readonly ProbePeriod[],
): Promise<readonly SeriesBucket[]> => {
  const { from, to } = span;
  const measuring =
    probes ??
    running
      .lab()
      .probes.filter((probe) => probe.station === station.id)
      .map((probe) => ({ probe, from, to }));
  const series = await Promise.all(
    measuring.map(async ({ probe, from: began, to: ended }) => {
      const buckets = await running.store.buckets({ probe: probe.id, ...span });
      return began <= from && ended >= to
        ? buckets
        : buckets.filter(({ at }) => (at >= began || began <= from) && at < ended);
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
    .map(([at, buckets]) => together(station.kind, at, buckets));
};
