// The heater gets too much: a contact welded shut, a knob turned too far; and a contact that bounces.

import { DAY, HOUR, MINUTE } from '../days/calendar.ts';
import type { Draw } from '../draw/draw.ts';
import { type HeaterPlan, isHeater, type PotPlan, type WorldPlan } from '../world/plan.ts';
import { column, indexAt } from '../world/record.ts';
import {
  type InjectedFault,
  type HarmRule,
  pickFrom,
  spell,
  stationsOf,
  warmInstant,
  warmRunsLater,
} from './injection.ts';

/** Somebody pulls the plug, or turns the knob back, so long after the ceiling was passed; then it works as before. */
const drawNoticeMillis = (draw: Draw) => draw.uniform(12, 60) * MINUTE;

/** Seconds from an ordinary turn to the ceiling at full power, roughly. */
const climbMillis = (heater: HeaterPlan): number =>
  (1000 * 1.5 * heater.warmUpSeconds * (heater.ceilingCelsius - heater.setCelsius)) /
  Math.max(20, heater.setCelsius - 20);

/** Mostly a pot; now and then what softens. */
const pickHeater = (world: WorldPlan, draw: Draw): HeaterPlan | null =>
  draw.chance(0.85)
    ? pickFrom(draw, stationsOf(world, 'pot'))
    : pickFrom(draw, world.stations.filter(isHeater));

const pickPot = (world: WorldPlan, draw: Draw) => pickFrom(draw, stationsOf(world, 'pot'));

export const stuckOn: InjectedFault = {
  wishes: { days: [3, 5], pots: [1, 2], pot: { stayOnAtPauses: true } },
  inject: (world, draw) => {
    const heater = pickHeater(world, draw);
    if (heater === null) return null;
    const run = pickFrom(draw, warmRunsLater(world, heater));
    if (run === null) return null;
    const begins = draw.chance(0.2) ? run.from + MINUTE : draw.uniform(run.warm, run.to - 1.3 * HOUR);
    const climb = Math.max(0, run.warm - begins) + climbMillis(heater);
    const ends = Math.min(begins + climb + drawNoticeMillis(draw), run.to + 40 * MINUTE);
    heater.spells.push({ from: begins, to: ends, set: { stuckOn: true } });
    return [spell(heater.id, begins, ends, ['over-ceiling'])];
  },
};

export const setTooHigh: InjectedFault = {
  wishes: { days: [3, 5], pots: [1, 2], pot: { stayOnAtPauses: true } },
  inject: (world, draw) => {
    const heater = pickHeater(world, draw);
    const instant = heater && warmInstant(world, heater, draw, 1.3 * HOUR);
    if (!heater || !instant) return null;
    const { at: begins, offAt } = instant;
    const shiftCelsius = heater.ceilingCelsius - heater.setCelsius + draw.uniform(2, 14);
    const ends = Math.min(begins + 2 * climbMillis(heater) + drawNoticeMillis(draw), offAt);
    heater.spells.push({ from: begins, to: ends, set: { shiftCelsius } });
    return [spell(heater.id, begins, ends, ['over-ceiling'])];
  },
};

const MORE_SWITCHINGS = 500;

/** When the contact has switched so many times more than it would have. */
const tooManySwitchings =
  (pot: PotPlan, begins: number, ends: number): HarmRule =>
  ({ records }) => {
    const record = records.get(pot.id);
    if (record === undefined) return null;
    const counts = column(record, 'switchings');
    const first = indexAt(record, begins);
    const usual = 2000 / Math.max(60, pot.periodSeconds);
    let runs = 0;
    for (let i = first; i < counts.length; i += 1) {
      const at = record.from + i * record.stepMillis;
      if (at > ends) return null;
      if (pot.runs.some(({ from, to }) => at >= from && at < to)) runs += record.stepMillis;
      if ((counts[i] ?? 0) - (counts[first] ?? 0) - (runs * usual) / 1e6 >= MORE_SWITCHINGS) return at;
    }
    return null;
  };

export const relayChatter: InjectedFault = {
  wishes: {
    days: [5, 6],
    pots: [1, 2],
    pot: { control: 'on-off', hysteresisKelvin: [1, 8], finestProbe: true },
  },
  inject: (world, draw) => {
    const pot = pickPot(world, draw);
    const instant = pot && warmInstant(world, pot, draw);
    if (!pot || !instant) return null;
    const begins = instant.at;
    const ends = Math.min(world.ends, begins + draw.uniform(1.2, 2.5) * DAY);
    pot.spells.push({ from: begins, to: ends, set: { chatters: true } });
    return [spell(pot.id, begins, ends, [], { harm: tooManySwitchings(pot, begins, ends) })];
  },
};
