// A whole lab moved through time: the rooms under the weather, then everything that stands in them.

import { isStorage, type WorldStation, type WorldPlan } from './plan.ts';
import type { PlaceRecord } from './record.ts';
import { runPlace, weatherOf } from './run-place.ts';

const RECORDED: Readonly<Record<Exclude<WorldStation['kind'], 'cabinet'>, readonly string[]>> = {
  pot: ['wax', 'hottest', 'coldest', 'above', 'level', 'switchings'],
  annealer: ['upper', 'lower', 'load'],
  bath: ['middle'],
  lamp: ['middle'],
  room: ['air'],
  shelf: ['air'],
};

const recordedSpots = (plan: WorldStation): readonly string[] =>
  plan.kind === 'cabinet'
    ? [...new Set(['air', ...plan.probes.map(({ spot }) => spot)])]
    : RECORDED[plan.kind];

export type WorldRecord = ReadonlyMap<string, PlaceRecord>;

/**
 * @param which leaves out what is not needed; rooms are always run.
 * @param earlier what was run before, and need not be run again.
 */
export const runWorld = (
  world: WorldPlan,
  which: (station: WorldStation) => boolean = () => true,
  earlier: WorldRecord = new Map(),
): WorldRecord => {
  const weather = weatherOf(world);
  const records = new Map(earlier);
  const wanted = world.stations.filter((plan) => plan.kind === 'room' || which(plan));
  const rooms = wanted.filter(({ kind }) => kind === 'room');
  const inside = wanted.filter(({ kind }) => kind !== 'room');
  for (const plan of [...rooms, ...inside]) {
    if (records.has(plan.id)) continue;
    const room = plan.room === null ? null : (records.get(plan.room) ?? null);
    records.set(plan.id, runPlace(world, plan, weather, room, recordedSpots(plan)));
  }
  return records;
};

/** Storage and rooms alone: enough to see what is usual there. */
export const runStorage = (world: WorldPlan): WorldRecord => runWorld(world, isStorage);
