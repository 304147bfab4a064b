// What goes wrong where patterns wait: frost through a window, heating off, sun, a door ajar, cooling gone coarse.

import { HOUR, MINUTE } from '../days/calendar.ts';
import type { Draw } from '../draw/draw.ts';
import type { HarmKind } from '../harm/harm.ts';
import { isStorage, type StoragePlan, type WorldPlan } from '../world/plan.ts';
import { type InjectedFault, laterDays, pickFrom, spell, stationsOf, type TrueSpell } from './injection.ts';

const HARMS: readonly HarmKind[] = ['pattern-outside', 'pattern-swing'];
/** A swing stays in the last 24 hours long after the place is in order again. */
const LINGERS: readonly HarmKind[] = ['pattern-outside'];

/** Every place in the room is drawn in; the room itself must come to harm, the others may. */
const roomAndAll = (
  world: WorldPlan,
  room: StoragePlan,
  begins: number,
  ends: number,
): readonly TrueSpell[] =>
  world.stations
    .filter(isStorage)
    .filter((candidate) => candidate.id === room.id || candidate.room === room.id)
    .map((candidate) =>
      spell(candidate.id, begins, ends, HARMS, { lingering: LINGERS, mustHarm: candidate.id === room.id }),
    );

/** Evening of a later day to the next morning. */
const drawEvening = (world: WorldPlan, draw: Draw) => {
  const day = pickFrom(draw, laterDays(world, 1));
  const next = day && world.days[world.days.indexOf(day) + 1];
  if (!day?.work || !next) return null;
  return { from: day.work.closes, morning: next.work?.opens ?? next.start + 9 * HOUR };
};

export const windowFrost: InjectedFault = {
  wishes: { days: [4, 6], seasons: ['winter'], pots: [0, 1], shelves: [1, 1], cabinets: [0, 1] },
  inject: (world, draw) => {
    const room = pickFrom(draw, stationsOf(world, 'room'));
    const night = drawEvening(world, draw);
    if (!room || !night) return null;
    const begins = draw.chance(0.7)
      ? night.from - draw.uniform(0, 20) * MINUTE
      : night.from - draw.uniform(3, 6) * HOUR;
    const ends = draw.chance(0.6)
      ? night.morning - draw.uniform(0, 30) * MINUTE
      : begins + draw.uniform(3, 9) * HOUR;
    room.spells.push({ from: begins, to: ends, set: { open: true, openShare: draw.uniform(0.7, 1.6) } });
    return roomAndAll(world, room, begins, ends);
  },
};

export const heatingOff: InjectedFault = {
  wishes: {
    days: [6, 9],
    seasons: ['winter'],
    pots: [0, 1],
    shelves: [1, 1],
    cabinets: [0, 1],
    startsOn: [1, 2, 3],
  },
  inject: (world, draw) => {
    const room = pickFrom(draw, stationsOf(world, 'room'));
    const isWeekend = draw.chance(0.5);
    const days = laterDays(world, 1).filter((day) => {
      const next = world.days[world.days.indexOf(day) + 1];
      return !isWeekend || next?.work === null;
    });
    const day = pickFrom(draw, days);
    if (!room || !day?.work) return null;
    const begins = isWeekend ? day.work.closes : draw.uniform(day.work.opens, day.work.closes);
    const ends = Math.min(world.ends, begins + draw.uniform(20, isWeekend ? 66 : 44) * HOUR);
    room.spells.push({ from: begins, to: ends, set: { elementShare: 0 } });
    return roomAndAll(world, room, begins, ends);
  },
};

export const sunShelf: InjectedFault = {
  wishes: {
    days: [4, 6],
    seasons: ['transition', 'summer'],
    pots: [0, 1],
    shelves: [1, 1],
    sunnyShelf: true,
    clearSky: true,
  },
  inject: (world, draw) => {
    const shelf = pickFrom(draw, stationsOf(world, 'shelf'));
    const day = pickFrom(draw, laterDays(world));
    if (!shelf || !day) return null;
    const hour = (share: number) => day.start + share * HOUR;
    const { sunrise, sunset } = world.climate;
    const begins = hour(draw.uniform(sunrise + 2, sunrise + 5));
    const ends = hour(draw.uniform(sunset - 3, sunset));
    shelf.spells.push({ from: begins, to: ends, set: { sunlit: 1 } });
    return [spell(shelf.id, begins, ends, HARMS, { lingering: LINGERS })];
  },
};

export const doorAjar: InjectedFault = {
  wishes: {
    days: [4, 6],
    seasons: ['winter', 'summer'],
    pots: [0, 1],
    cabinets: [1, 1],
    regulatedCabinets: true,
    cooledRoom: false,
    setbackKelvin: [4, 7],
  },
  inject: (world, draw) => {
    const cabinet = pickFrom(draw, stationsOf(world, 'cabinet'));
    const night = drawEvening(world, draw);
    if (!cabinet || !night) return null;
    const isWinter = world.climate.meanCelsius < 8;
    // In summer the room is warmest in the afternoon, in winter it is coldest at night.
    const begins = isWinter ? night.from - draw.uniform(0, 1) * HOUR : night.from - draw.uniform(2, 6) * HOUR;
    const ends = isWinter ? night.morning + draw.uniform(0, 1) * HOUR : begins + draw.uniform(4, 14) * HOUR;
    cabinet.spells.push({ from: begins, to: ends, set: { open: true, openShare: draw.uniform(0.4, 1) } });
    return [spell(cabinet.id, begins, ends, HARMS, { lingering: LINGERS })];
  },
};

export const acSwing: InjectedFault = {
  wishes: { days: [4, 6], pots: [0, 1], shelves: [0, 1], cabinets: [1, 1], regulatedCabinets: true },
  variant: { share: 0.35, wishes: { seasons: ['summer'], cooledRoom: true, regulatedCabinets: false } },
  inject: (world, draw) => {
    const places = world.stations.filter(isStorage).filter(({ isRegulated }) => isRegulated);
    const place = pickFrom(draw, places);
    const day = pickFrom(draw, laterDays(world));
    if (!place || !day) return null;
    const begins = draw.uniform(day.start, day.end - 4 * HOUR);
    const ends = Math.min(world.ends, begins + draw.uniform(6, 40) * HOUR);
    const coarseKelvin =
      place.kind === 'room'
        ? (place.usual.swing + 1.5) * draw.uniform(1, 1.5)
        : place.usual.swing * draw.uniform(0.6, 1.2);
    place.spells.push({ from: begins, to: ends, set: { coarseKelvin } });
    if (place.kind === 'room') return roomAndAll(world, place, begins, ends);
    return [spell(place.id, begins, ends, HARMS, { lingering: LINGERS })];
  },
};
