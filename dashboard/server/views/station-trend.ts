// The last hour of a station in sixty buckets, from the store's own downsampling. A store that does not answer
// gives an empty trend: the wall must go on without it, and /api/health says what is wrong.

import type { Station } from '../../../lab/station.ts';
import { type EpochMillis, epochMillis, MILLIS_PER_HOUR, MILLIS_PER_MINUTE } from '../../../wax/units.ts';
import type { TrendPoint } from '../../api/schemas.ts';
import { iso } from '../base/instant.ts';
import type { RunningLab } from '../../queries/running-lab.ts';
import { stationSeries } from '../../queries/station-series.ts';

const POINTS = 60;
/** The trend moves by a bucket a minute; asking the store again for each screen within seconds brings nothing new. */
const FRESH_MILLIS = 15_000;

const ask = async (
  running: RunningLab,
  station: Station,
  to: EpochMillis,
): Promise<readonly TrendPoint[]> => {
  const from = epochMillis(to - MILLIS_PER_HOUR);
  const buckets = await stationSeries(running, station, { from, to, points: POINTS });
  return buckets.map(({ at, min, mean, max }) => ({ at: iso(at), min, mean, max }));
};

export type StationTrend = (station: Station) => Promise<readonly TrendPoint[]>;

export const stationTrends = (running: RunningLab): StationTrend => {
  const asked = new Map<
    string,
    { readonly at: EpochMillis; readonly trend: Promise<readonly TrendPoint[]> }
  >();
  return (station) => {
    const now = running.now();
    const cached = asked.get(station.id);
    // A past that is being simulated fills the hour within seconds.
    const isSettled = (running.preparing?.() ?? null) === null;
    if (isSettled && cached !== undefined && now - cached.at < FRESH_MILLIS && now >= cached.at)
      return cached.trend;
    // Whole minutes, so that a bucket keeps its bounds from one answer to the next.
    const to = epochMillis(Math.ceil((now + 1) / MILLIS_PER_MINUTE) * MILLIS_PER_MINUTE);
    const trend = ask(running, station, to).catch(() => []);
    if (isSettled) asked.set(station.id, { at: now, trend });
    return trend;
  };
};
