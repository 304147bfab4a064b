// The last hour of a station in sixty buckets, from the store's own downsampling. A store that does not answer
// gives an empty trend: the wall must go on without it, and /api/health says what is wrong.

import type { Bucket } from '../../../collector/store/store.ts';
import type { Lab } from '../../../lab/lab.ts';
import { isHeater, type Station } from '../../../lab/station.ts';
import { type EpochMillis, epochMillis, MILLIS_PER_HOUR, MILLIS_PER_MINUTE } from '../../../wax/units.ts';
import type { TrendPoint } from '../../api/schemas.ts';
import { iso } from '../instant.ts';
import type { RunningLab } from '../running-lab.ts';

const POINTS = 60;
/** The trend moves by a bucket a minute; asking the store again for each screen within seconds tells nothing new. */
const FRESH_MILLIS = 15_000;

/** Several probes in one place: the hottest decides at a heater, the weighted mean elsewhere, as in the standing. */
const together = (kind: Station['kind'], buckets: readonly Bucket[]): Omit<Bucket, 'at'> => {
  const count = buckets.reduce((sum, one) => sum + one.count, 0);
  return {
    min: Math.min(...buckets.map((one) => one.min)),
    max: Math.max(...buckets.map((one) => one.max)),
    mean: isHeater(kind)
      ? Math.max(...buckets.map((one) => one.mean))
      : buckets.reduce((sum, one) => sum + one.mean * one.count, 0) / count,
    count,
    doubtful: buckets.reduce((sum, one) => sum + one.doubtful, 0),
  };
};

const probesOf = (lab: Lab, station: string): readonly string[] =>
  lab.probes.filter((probe) => probe.station === station).map((probe) => probe.id);

const ask = async (
  running: RunningLab,
  station: Station,
  to: EpochMillis,
): Promise<readonly TrendPoint[]> => {
  const from = epochMillis(to - MILLIS_PER_HOUR);
  const series = await Promise.all(
    probesOf(running.lab(), station.id).map((probe) =>
      running.store.buckets({ probe, from, to, points: POINTS }),
    ),
  );
  const byStart = new Map<EpochMillis, Bucket[]>();
  for (const bucket of series.flat()) byStart.set(bucket.at, [...(byStart.get(bucket.at) ?? []), bucket]);
  return [...byStart.entries()]
    .sort(([one], [other]) => one - other)
    .map(([at, buckets]) => {
      const { min, mean, max } = together(station.kind, buckets);
      return { at: iso(at), min, mean, max };
    });
};

export type StationTrend = (station: Station) => Promise<readonly TrendPoint[]>;

export const stationTrends = (running: RunningLab): StationTrend => {
  const asked = new Map<
    string,
    { readonly at: EpochMillis; readonly trend: Promise<readonly TrendPoint[]> }
  >();
  return (station) => {
    const now = running.now();
    const kept = asked.get(station.id);
    if (kept !== undefined && now - kept.at < FRESH_MILLIS && now >= kept.at) return kept.trend;
    // Whole minutes, so that a bucket keeps its bounds from one answer to the next.
    const to = epochMillis(Math.ceil((now + 1) / MILLIS_PER_MINUTE) * MILLIS_PER_MINUTE);
    const trend = ask(running, station, to).catch(() => []);
    asked.set(station.id, { at: now, trend });
    return trend;
  };
};
