// A lab run once: what was true, what the probes read of it, what came to harm, and what the lab demands of each place.

import { drawFrom } from '../draw/draw.ts';
import type { WorldOutcome } from '../faults/injection.ts';
import type { Harm } from '../harm/harm.ts';
import { annealerHarm, bathHarm, potHarm } from '../harm/heater-harm.ts';
import { type StorageLimits, storageHarm } from '../harm/storage-harm.ts';
import { MINUTE } from '../days/calendar.ts';
import { type ProbeStream, probeStream } from '../traces/probe-stream.ts';
import { isStorage, type WorldStation, type WorldPlan } from '../world/plan.ts';
import type { PlaceRecord } from '../world/record.ts';
import { runStorage, runWorld, type WorldRecord } from '../world/run-world.ts';
import { storageLimits } from './storage-limits.ts';

const WRONG_MILLIS = 5 * MINUTE;
const WRONG_KELVIN = { heater: 2, storage: 1 } as const;

export interface CaseOutcome extends WorldOutcome {
  readonly streams: readonly ProbeStream[];
  readonly limits: ReadonlyMap<string, StorageLimits>;
}

const placeHarm = (
  world: WorldPlan,
  plan: WorldStation,
  record: PlaceRecord,
  limits: StorageLimits | undefined,
): readonly Harm[] => {
  switch (plan.kind) {
    case 'pot':
      return potHarm(world, plan, record);
    case 'annealer':
      return annealerHarm(world, plan, record);
    case 'bath':
      return bathHarm(world, plan, record);
    case 'lamp':
      return [];
    default:
      return limits ? storageHarm(world, plan, record, limits) : [];
  }
};

export const allLimits = (world: WorldPlan): ReadonlyMap<string, StorageLimits> => {
  const usual = runStorage(world);
  return new Map(
    world.stations.filter(isStorage).flatMap((plan) => {
      const record = usual.get(plan.id);
      const draw = drawFrom(world.seed, `limits/${plan.id}`);
      return record ? [[plan.id, storageLimits(world, plan, record, draw)] as const] : [];
    }),
  );
};

const streamsOf = (world: WorldPlan, records: WorldRecord) =>
  world.stations.flatMap((plan) => {
    const home = records.get(plan.id);
    if (home === undefined) return [];
    const limit = isStorage(plan) ? WRONG_KELVIN.storage : WRONG_KELVIN.heater;
    return plan.probes.map((probe) => ({
      station: plan.id,
      stream: probeStream(world, probe, home, records, limit),
    }));
  });

const probeHarm = (station: string, { wrong }: ProbeStream): readonly Harm[] =>
  wrong
    .filter(({ since, until }) => until - since >= WRONG_MILLIS)
    .map(({ since, until }) => ({ station, kind: 'probe-wrong', since, harm: since + WRONG_MILLIS, until }));

/** Harm at the places that are recorded, without what the probes read of them. */
export const harmIn = (
  world: WorldPlan,
  records: WorldRecord,
  limits: ReadonlyMap<string, StorageLimits>,
): readonly Harm[] =>
  world.stations.flatMap((plan) => {
    const record = records.get(plan.id);
    return record ? placeHarm(world, plan, record, limits.get(plan.id)) : [];
  });

/**
 * @param limits of the storage, from the lab in good order.
 * @param earlier records of some of the places.
 */
export const runCase = (
  world: WorldPlan,
  limits: ReadonlyMap<string, StorageLimits>,
  earlier: WorldRecord,
): CaseOutcome => {
  const records = runWorld(world, () => true, earlier);
  const streams = streamsOf(world, records);
  const harms = [
    ...harmIn(world, records, limits),
    ...streams.flatMap(({ station, stream }) => probeHarm(station, stream)),
  ];
  return { records, streams: streams.map(({ stream }) => stream), harms, limits };
};
