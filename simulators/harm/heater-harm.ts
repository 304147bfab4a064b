// Harm at pots, annealers and baths.

import { type CalendarDay, clockTime, HOUR, isInHours, MINUTE } from '../days/calendar.ts';
import type { AnnealerPlan, BathPlan, HeaterPlan, PotPlan, WorldPlan } from '../world/plan.ts';
import { column, indexAt, type PlaceRecord } from '../world/record.ts';
import { episodes } from './episodes.ts';
import type { Harm, HarmKind } from './harm.ts';

const UNDER_SET_KELVIN = 6;
const UNDER_SET_MILLIS = 20 * MINUTE;
const AFTER_HOURS_MILLIS = 3 * HOUR;
const READY_WITHIN = 15 * MINUTE;
const UNEVEN_MILLIS = 10 * MINUTE;
const OUTSIDE_WINDOW_MILLIS = 5 * MINUTE;

const harmsOf = (station: string, kind: HarmKind, found: ReturnType<typeof episodes>): readonly Harm[] =>
  found.map((episode) => ({ ...episode, station, kind }));

/** Runs from where the heater should be warm by, in good order. */
const warmRuns = (plan: HeaterPlan) =>
  plan.runs
    .map(({ from, to }) => ({ from: from + 1.35 * plan.warmUpSeconds * 1000 + 15 * MINUTE, to }))
    .filter(({ from, to }) => from < to);

const isWithin = (runs: readonly { readonly from: number; readonly to: number }[]) => {
  let next = 0;
  return (at: number): boolean => {
    while (next < runs.length && at >= (runs[next]?.to ?? 0)) next += 1;
    return at >= (runs[next]?.from ?? Number.POSITIVE_INFINITY);
  };
};

/** The hours of readiness of the days on which somebody meant to use it. */
const readyInstants = (world: WorldPlan, plan: HeaterPlan): readonly number[] => {
  const { readyBy } = plan;
  if (readyBy === null) return [];
  return world.days.flatMap((day: CalendarDay) => {
    if (day.work === null) return [];
    const at = clockTime(world.hours, day.date, readyBy);
    const isMeant = plan.runs.some(({ from, to }) => from <= at && at < to);
    return isMeant && at > world.starts && at < world.ends ? [at] : [];
  });
};

const underSet = (world: WorldPlan, plan: HeaterPlan, record: PlaceRecord, mean: (i: number) => number) => {
  const isWarm = isWithin(warmRuns(plan));
  return harmsOf(
    plan.id,
    'under-set',
    episodes(
      record,
      world.starts,
      world.ends,
      UNDER_SET_MILLIS,
      (i, at) => isWarm(at) && mean(i) < plan.setCelsius - UNDER_SET_KELVIN,
    ),
  );
};

/** A door opened or cold wax added at that very moment is no matter: ready once in the quarter of an hour is ready. */
const wasReady = (record: PlaceRecord, at: number, isReady: (i: number) => boolean): boolean => {
  const last = indexAt(record, at);
  for (let i = indexAt(record, at - READY_WITHIN); i <= last; i += 1) if (isReady(i)) return true;
  return false;
};

const notReady = (
  world: WorldPlan,
  plan: HeaterPlan,
  record: PlaceRecord,
  isReady: (i: number) => boolean,
): readonly Harm[] =>
  readyInstants(world, plan).flatMap((at) =>
    wasReady(record, at, isReady)
      ? []
      : [{ station: plan.id, kind: 'not-ready' as const, since: at, harm: at, until: at }],
  );

export const potHarm = (world: WorldPlan, plan: PotPlan, record: PlaceRecord): readonly Harm[] => {
  const hottest = column(record, 'hottest');
  const coldest = column(record, 'coldest');
  const level = column(record, 'level');
  const { solidus, liquidus } = plan.melting;
  const { starts, ends } = world;
  const find = (kind: HarmKind, hold: number, holds: (i: number, at: number) => boolean) =>
    harmsOf(plan.id, kind, episodes(record, starts, ends, hold, holds));
  const isWarm = isWithin(warmRuns(plan));
  const outside = new Map<number, boolean>();
  const isOutside = (at: number) => {
    const minute = Math.floor(at / MINUTE);
    const before = outside.get(minute);
    if (before !== undefined) return before;
    const is = !isInHours(world.days, minute * MINUTE);
    outside.set(minute, is);
    return is;
  };
  return [
    ...find('over-ceiling', 0, (i) => (hottest[i] ?? 0) > plan.ceilingCelsius),
    ...notReady(world, plan, record, (i) => (coldest[i] ?? 0) > liquidus),
    ...underSet(world, plan, record, (i) => ((hottest[i] ?? 0) + (coldest[i] ?? 0)) / 2),
    ...find(
      'molten-after-hours',
      AFTER_HOURS_MILLIS,
      (i, at) => (coldest[i] ?? 0) > liquidus && isOutside(at),
    ),
    ...find('bare', 0, (i) => (level[i] ?? 1) < plan.bareBelow),
    ...find('not-molten', 0, (i, at) => isWarm(at) && (coldest[i] ?? 0) < solidus),
  ];
};

export const annealerHarm = (world: WorldPlan, plan: AnnealerPlan, record: PlaceRecord): readonly Harm[] => {
  const upper = column(record, 'upper');
  const lower = column(record, 'lower');
  const isWarm = isWithin(warmRuns(plan));
  const { starts, ends } = world;
  const mean = (i: number) => ((upper[i] ?? 0) + (lower[i] ?? 0)) / 2;
  return [
    ...harmsOf(
      plan.id,
      'uneven',
      episodes(
        record,
        starts,
        ends,
        UNEVEN_MILLIS,
        (i, at) => isWarm(at) && Math.abs((upper[i] ?? 0) - (lower[i] ?? 0)) > plan.unevenKelvin,
      ),
    ),
    ...harmsOf(
      plan.id,
      'over-ceiling',
      episodes(record, starts, ends, 0, (i) => Math.max(upper[i] ?? 0, lower[i] ?? 0) > plan.ceilingCelsius),
    ),
    ...notReady(world, plan, record, (i) => mean(i) > plan.window[0]),
    ...underSet(world, plan, record, mean),
  ];
};

export const bathHarm = (world: WorldPlan, plan: BathPlan, record: PlaceRecord): readonly Harm[] => {
  const water = column(record, 'middle');
  const isWarm = isWithin(warmRuns(plan));
  const [low, high] = plan.window;
  const { starts, ends } = world;
  const isOutside = (i: number) => (water[i] ?? 0) < low || (water[i] ?? 0) > high;
  return [
    ...harmsOf(
      plan.id,
      'outside-window',
      episodes(record, starts, ends, OUTSIDE_WINDOW_MILLIS, (i, at) => isWarm(at) && isOutside(i)),
    ),
    ...harmsOf(
      plan.id,
      'over-ceiling',
      episodes(record, starts, ends, 0, (i) => (water[i] ?? 0) > plan.ceilingCelsius),
    ),
    ...notReady(world, plan, record, (i) => (water[i] ?? 0) > low),
    ...underSet(world, plan, record, (i) => water[i] ?? 0),
  ];
};
