// The heater gets too little: its element fails, or wears out over days; the mains fails.

import { DAY, HOUR, MINUTE } from '../days/calendar.ts';
import { ramp } from '../days/spell.ts';
import type { Draw } from '../draw/draw.ts';
import { isHeater, type WorldPlan } from '../world/plan.ts';
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

const heaterOf = (world: WorldPlan, draw: Draw) =>
  pickFrom(draw, draw.chance(0.75) ? stationsOf(world, 'pot') : world.stations.filter(isHeater));

export const heaterDead: InjectedFault = {
  wishes: { days: [3, 5], pots: [1, 2] },
  inject: (world, draw) => {
    const heater = heaterOf(world, draw);
    if (heater === null) return null;
    const day = pickFrom(draw, laterDays(world));
    const first = heater.runs.find(({ from }) => day && from >= day.start && from < day.end);
    if (!day?.work || !first) return null;
    const instant = draw.chance(0.35) ? warmInstant(world, heater, draw, 1.5 * HOUR) : null;
    // In the morning it is found dead when it is switched on.
    const begins = instant?.at ?? first.from;
    const mended = begins + draw.uniform(2.5, 6) * HOUR;
    const ends = draw.chance(0.5) ? mended : Math.min(world.ends, begins + draw.uniform(0.9, 1.4) * DAY);
    heater.spells.push({ from: begins - MINUTE, to: ends, set: { elementShare: 0 } });
    return [spell(heater.id, begins, ends, ['not-ready', 'under-set'])];
  },
};

export const elementWeak: InjectedFault = {
  wishes: { days: [9, 13], pots: [1, 1], annealers: [0, 0], baths: [0, 0], lamps: [0, 0] },
  inject: (world, draw) => {
    const heater = pickFrom(draw, stationsOf(world, 'pot'));
    const [first] = laterDays(world);
    if (!heater || !first) return null;
    const begins = first.start;
    const share = draw.uniform(0.25, 0.5);
    const worn = begins + draw.uniform(3, 6) * DAY;
    const ends = Math.min(world.ends, worn + draw.uniform(0.6, 1.6) * DAY);
    heater.spells.push(...ramp(begins, worn, 2 * HOUR, (way) => ({ elementShare: 1 - (1 - share) * way })), {
      from: worn,
      to: ends,
      set: { elementShare: share },
    });
    return [spell(heater.id, begins, ends, ['not-ready', 'under-set'])];
  },
};

/** What the mains feeds is off; gateways without a battery are silent. */
const cut = (world: WorldPlan, from: number, to: number, hasBattery: boolean) => {
  for (const station of world.stations) station.spells.push({ from, to, set: { powered: false } });
  if (!hasBattery)
    for (const gateway of world.gateways) gateway.troubles.push({ kind: 'silent', from, to, buffers: false });
};

const cutInstant = (world: WorldPlan, draw: Draw, leave: number): number | null => {
  const heater = pickFrom(draw, stationsOf(world, 'pot'));
  return heater && (warmInstant(world, heater, draw, leave)?.at ?? null);
};

export const powerCutShort: InjectedFault = {
  wishes: { days: [3, 5], pots: [1, 2] },
  inject: (world, draw) => {
    const begins = cutInstant(world, draw, HOUR);
    if (begins === null) return null;
    const ends = begins + draw.uniform(0.5, 6) * MINUTE;
    cut(world, begins, ends, draw.chance(0.4));
    // A heater is back at its temperature some time after the mains is.
    return world.stations.map(({ id }) =>
      spell(id, begins, ends + 15 * MINUTE, [], { harm: noHarm, mustHarm: false }),
    );
  },
};

export const powerCutLong: InjectedFault = {
  wishes: { days: [3, 5], pots: [1, 2], pot: { stayOnAtPauses: true } },
  inject: (world, draw) => {
    const begins = cutInstant(world, draw, 2 * HOUR);
    if (begins === null) return null;
    const back = begins + draw.uniform(1, 5) * HOUR;
    cut(world, begins, back, draw.chance(0.4));
    return world.stations.map((station): TrueSpell => {
      if (!isHeater(station)) return spell(station.id, begins, back, [], { harm: noHarm, mustHarm: false });
      // Those with an electronic switch stay off until somebody switches them on again.
      const restarts = draw.chance(0.5);
      const onAgain = restarts ? back : back + draw.uniform(20, 90) * MINUTE;
      if (!restarts) station.spells.push({ from: back, to: onAgain, set: { on: false } });
      return spell(station.id, begins, onAgain + station.warmUpSeconds * 1200, ['not-molten'], {
        mustHarm:
          station.kind === 'pot' &&
          station.id === stationsOf(world, 'pot')[0]?.id &&
          back - begins > 3 * HOUR,
      });
    });
  },
};
