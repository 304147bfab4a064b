// The last hour of a station in sixty buckets, from the store's own downsampling. A store that does not answer
// in time gives the trend as it was, or none: the wall goes on without it, and /api/health shows what is wrong.

import { setTimeout as delay } from 'node:timers/promises';
import type { Station } from '../../../lab/station.ts';
import { type EpochMillis, epochMillis, MILLIS_PER_HOUR, MILLIS_PER_MINUTE } from '../../../wax/units.ts';
import type { TrendPoint } from '../../api/schemas.ts';
import type { RunningLab } from '../../queries/running-lab.ts';
import { stationSeries } from '../../queries/station-series.ts';
import { iso } from '../../../wax/iso.ts';

const POINTS = 60;
/** The trend moves by a bucket a minute; reading the store again for each screen within seconds brings nothing new. */
const FRESH_MILLIS = 15_000;
/** The present state comes from memory; a screen waits so long for the hour before, and no longer. */
const PATIENCE_MILLIS = 500;
const NO_POINTS: readonly TrendPoint[] = [];

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
  const answered = new Map<string, { readonly at: EpochMillis; readonly points: readonly TrendPoint[] }>();
  const asking = new Map<string, Promise<readonly TrendPoint[]>>();

  const askOnce = (station: Station, now: EpochMillis): Promise<readonly TrendPoint[]> => {
    const pending = asking.get(station.id);
    if (pending !== undefined) return pending;
    // Whole minutes, so that a bucket keeps its bounds from one answer to the next.
    const to = epochMillis(Math.ceil((now + 1) / MILLIS_PER_MINUTE) * MILLIS_PER_MINUTE);
    const answer = ask(running, station, to)
      .catch((): readonly TrendPoint[] => [])
      .then((points) => {
        answered.set(station.id, { at: now, points });
        return points;
      })
      .finally(() => asking.delete(station.id));
    asking.set(station.id, answer);
    return answer;
  };
  return async (station) => {
    const now = running.now();
    const before = answered.get(station.id);
    // A past that is being simulated fills the hour within seconds.
    const isSettled = (running.preparing?.() ?? null) === null;
    if (isSettled && before !== undefined && now - before.at < FRESH_MILLIS && now >= before.at)
      return before.points;
    const answer = askOnce(station, now);
    const patience = new AbortController();
    const late = delay(PATIENCE_MILLIS, before?.points ?? NO_POINTS, patience).catch(() => NO_POINTS);
    return Promise.race([answer, late]).finally(() => patience.abort());
  };
};
