// What goes wrong between the wax and the lab's computer: probes, gateways, clocks. The heat is in good order.

import { HOUR, MINUTE } from '../days/calendar.ts';
import type { Draw } from '../draw/draw.ts';
import type { HarmKind } from '../harm/harm.ts';
import { isStorage, type WorldProbe, type WorldStation, type WorldPlan } from '../world/plan.ts';
import {
  type InjectedFault,
  laterDays,
  noHarm,
  pickFrom,
  spell,
  stationsOf,
  type TrueSpell,
  warmInstant,
} from './injection.ts';

const WRONG: readonly HarmKind[] = ['probe-wrong'];
const wrongSpell = (station: string, begins: number, ends: number): TrueSpell =>
  spell(station, begins, ends, WRONG, { isOfProbe: true });

const potProbe = (world: WorldPlan, draw: Draw) => {
  const pot = pickFrom(draw, stationsOf(world, 'pot'));
  const probe = pot && pickFrom(draw, pot.probes);
  const instant = pot && warmInstant(world, pot, draw, 1.5 * HOUR);
  return pot && probe && instant ? { station: pot, probe, ...instant } : null;
};

/** Two thirds of them in a pot, the others where patterns wait. */
const anyProbe = (
  world: WorldPlan,
  draw: Draw,
): { readonly station: WorldStation; readonly probe: WorldProbe; readonly at: number } | null => {
  if (draw.chance(0.67)) return potProbe(world, draw);
  const place = pickFrom(draw, world.stations.filter(isStorage));
  const probe = place && pickFrom(draw, place.probes);
  const day = pickFrom(draw, laterDays(world));
  return place && probe && day
    ? { station: place, probe, at: draw.uniform(day.start, day.end - HOUR) }
    : null;
};

export const probeStuck: InjectedFault = {
  wishes: { days: [4, 6], pots: [1, 2], shelves: [0, 1], cabinets: [0, 1] },
  inject: (world, draw) => {
    const chosen = anyProbe(world, draw);
    if (chosen === null) return null;
    const ends = Math.min(world.ends, chosen.at + draw.uniform(12, 40) * HOUR);
    chosen.probe.troubles.push({ kind: 'stuck', from: chosen.at, to: ends });
    return [wrongSpell(chosen.station.id, chosen.at, ends)];
  },
};

export const probeAir: InjectedFault = {
  wishes: { days: [4, 6], pots: [1, 2] },
  inject: (world, draw) => {
    const chosen = potProbe(world, draw);
    if (chosen === null) return null;
    const ends = Math.min(world.ends, chosen.at + draw.logUniform(0.4, 20) * HOUR);
    chosen.probe.troubles.push({
      kind: 'moved',
      from: chosen.at,
      to: ends,
      station: chosen.station.id,
      spot: 'above',
      lagFactor: draw.uniform(3, 8),
    });
    return [wrongSpell(chosen.station.id, chosen.at, ends)];
  },
};

export const probeDrift: InjectedFault = {
  wishes: { days: [7, 11], pots: [1, 1], shelves: [0, 1], cabinets: [0, 1], baths: [0, 0] },
  inject: (world, draw) => {
    const pot = stationsOf(world, 'pot')[0];
    const chosen = draw.chance(0.67) && pot ? { station: pot, probe: pot.probes[0] } : anyProbe(world, draw);
    const [day] = laterDays(world);
    if (!chosen?.probe || !day) return null;
    const begins = draw.uniform(day.start, day.end);
    const perDay =
      (chosen.station.kind === 'pot' ? 1 : 0.5) * draw.uniform(0.8, 4) * (draw.chance(0.5) ? 1 : -1);
    const ends = world.ends;
    chosen.probe.troubles.push({ kind: 'drift', from: begins, to: ends, kelvinPerHour: perDay / 24 });
    return [wrongSpell(chosen.station.id, begins, ends)];
  },
};

export const probeLoose: InjectedFault = {
  wishes: { days: [4, 6], pots: [1, 2] },
  inject: (world, draw) => {
    const chosen = anyProbe(world, draw);
    if (chosen === null) return null;
    const ends = Math.min(world.ends, chosen.at + draw.uniform(3, 30) * HOUR);
    const period = chosen.probe.seconds;
    chosen.probe.troubles.push({
      kind: 'loose',
      from: chosen.at,
      to: ends,
      badSeconds: Math.max(60, period * 3) * draw.uniform(0.5, 5),
      goodSeconds: Math.max(20, period) * draw.uniform(0.3, 4),
      scatterKelvin: draw.logUniform(8, 60),
      lostShare: draw.uniform(0, 0.4),
    });
    return [wrongSpell(chosen.station.id, chosen.at, ends)];
  },
};

export const probeSwap: InjectedFault = {
  wishes: { days: [4, 6], pots: [2, 2], shelves: [0, 1] },
  inject: (world, draw) => {
    const [first, second] = stationsOf(world, 'pot');
    const storage = pickFrom(draw, world.stations.filter(isStorage));
    const partner = draw.chance(0.6) ? second : storage;
    const [a, b] = [first?.probes[0], partner?.probes[0]];
    if (!first || !partner || !a || !b) return null;
    const day = pickFrom(draw, laterDays(world));
    if (!day?.work) return null;
    const begins = draw.uniform(day.work.opens, day.work.closes - 2 * HOUR);
    const ends = Math.min(world.ends, begins + draw.uniform(10, 40) * HOUR);
    const move = (probe: WorldProbe, to: WorldStation, spot: string) =>
      probe.troubles.push({ kind: 'moved', from: begins, to: ends, station: to.id, spot, lagFactor: 1 });
    move(a, partner, b.spot);
    move(b, first, a.spot);
    return [first, partner].map(({ id }) => wrongSpell(id, begins, ends));
  },
};

/** Stations with a probe at the gateway. */
const stationsAt = (world: WorldPlan, gateway: string) =>
  world.stations.filter(({ probes }) => probes.some((probe) => probe.gateway === gateway));

const gatewayInstant = (world: WorldPlan, draw: Draw) => {
  const gateway = pickFrom(draw, world.gateways);
  const day = pickFrom(draw, laterDays(world));
  if (!gateway || !day) return null;
  const at =
    day.work && draw.chance(0.7)
      ? draw.uniform(day.work.opens, day.work.closes)
      : draw.uniform(day.start, day.end);
  return { gateway, at };
};

const BLIND = 30 * MINUTE;

export const gatewaySilent: InjectedFault = {
  wishes: { days: [3, 5], pots: [1, 2] },
  inject: (world, draw) => {
    const chosen = gatewayInstant(world, draw);
    if (chosen === null) return null;
    const begins = chosen.at;
    const ends = Math.min(world.ends, begins + draw.logUniform(0.7, 14) * HOUR);
    chosen.gateway.troubles.push({ kind: 'silent', from: begins, to: ends, buffers: draw.chance(0.5) });
    return stationsAt(world, chosen.gateway.id).map(({ id }) =>
      spell(id, begins, ends, [], { harm: () => (begins + BLIND < ends ? begins + BLIND : null) }),
    );
  },
};

const wrongClock = (sign: 1 | -1): InjectedFault => ({
  wishes: { days: [3, 5], pots: [1, 2] },
  inject: (world, draw) => {
    const chosen = gatewayInstant(world, draw);
    if (chosen === null) return null;
    const begins = chosen.at;
    const ends = draw.chance(0.5) ? world.ends : Math.min(world.ends, begins + draw.uniform(4, 30) * HOUR);
    const offsetMillis = Math.round(sign * draw.logUniform(3, 240) * MINUTE);
    chosen.gateway.troubles.push({ kind: 'clock', from: begins, to: ends, offsetMillis });
    return stationsAt(world, chosen.gateway.id).map(
      ({ id }): TrueSpell => spell(id, begins, ends, [], { harm: noHarm, mustHarm: false }),
    );
  },
});

export const clockAhead = wrongClock(1);
export const clockBehind = wrongClock(-1);
