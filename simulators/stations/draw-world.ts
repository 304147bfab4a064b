// A lab drawn by seed, as a case wishes it: where it lies, when it works, what is in it, the season and the days.

import {
  type CalendarDay,
  calendar,
  clockTime,
  type LabHours,
  MINUTE,
  nextDate,
  weekday,
} from '../days/calendar.ts';
import { type Draw, drawFrom } from '../draw/draw.ts';
import type { GatewayPlan, WorldStation, WorldPlan } from '../world/plan.ts';
import { drawClimate, type Season } from './draw-places.ts';
import { planCabinet, planRoom, planShelf } from './plan-places.ts';
import { planPot, type PotSurroundings } from './plan-pot.ts';
import { planAnnealer, planBath, planLamp } from './plan-softeners.ts';
import type { WorldWishes } from './wishes.ts';

const ZONES = [
  'Europe/Berlin',
  'Europe/Berlin',
  'Europe/Vienna',
  'Europe/London',
  'Europe/Lisbon',
  'America/New_York',
  'America/Denver',
] as const;
const MONTHS: Readonly<Record<Season, readonly [number, ...number[]]>> = {
  winter: [1, 2, 12],
  transition: [4, 5, 9, 10, 11],
  summer: [6, 7, 8],
};
/** Sundays on which clocks change in Europe and in North America. */
const CLOCK_CHANGES = {
  Europe: ['2024-03-31', '2024-10-27', '2025-03-30', '2025-10-26', '2026-03-29', '2026-10-25'],
  America: ['2024-03-10', '2024-11-03', '2025-03-09', '2025-11-02', '2026-03-08', '2026-11-01'],
} as const;

const drawHours = (draw: Draw, wishes: WorldWishes): LabHours => {
  const hasPause = wishes.hasPause ?? draw.chance(0.5);
  const saturday = wishes.worksSaturday ?? draw.chance(0.12);
  const noon = draw.pick<readonly [string, string]>([
    ['12:00', '12:45'],
    ['12:00', '13:00'],
    ['12:30', '13:15'],
    ['11:45', '12:45'],
  ]);
  return {
    timeZone: draw.pick(ZONES),
    days: ['Mon', 'Tue', 'Wed', 'Thu', 'Fri', ...(saturday ? ['Sat'] : [])],
    from: draw.pick(['07:00', '07:30', '07:30', '08:00', '08:30']),
    to: draw.pick(['16:00', '16:30', '17:00', '17:30', '18:00']),
    pauses: hasPause ? [noon] : [],
  };
};

/** The first day and how many follow. */
const drawDates = (draw: Draw, hours: LabHours, season: Season, wishes: WorldWishes) => {
  const length = draw.whole(...wishes.days);
  if (wishes.clockChange) {
    const changes = hours.timeZone.startsWith('America') ? CLOCK_CHANGES.America : CLOCK_CHANGES.Europe;
    // The Sunday is the case's last day but one.
    return { date: nextDate(draw.pick(changes), 2 - length), length };
  }
  const year = draw.whole(2024, 2026);
  const month = draw.pick(MONTHS[season]);
  let date = `${year}-${String(month).padStart(2, '0')}-${String(draw.whole(1, 28)).padStart(2, '0')}`;
  const allowed: readonly [number, ...number[]] = wishes.startsOn ?? [1, 1, 1, 2, 3];
  const first = draw.pick(allowed);
  while (weekday(date) !== first) date = nextDate(date, 1);
  return { date, length };
};

/** One lab in seven has a network that holds readings back for seconds, and now and then for some minutes. */
const drawGateways = (draw: Draw, starts: number, ends: number): readonly GatewayPlan[] => {
  const isUneven = draw.chance(0.15);
  return ['gw1', 'gw2'].map((id) => ({
    id,
    jitterMillis: isUneven ? draw.whole(200, 2500) : 0,
    troubles: Array.from({ length: isUneven ? draw.whole(0, 4) : 0 }, () => {
      const from = draw.uniform(starts, ends);
      return { kind: 'silent', from, to: from + draw.uniform(0.3, 4) * MINUTE, buffers: true } as const;
    }),
  }));
};

const ids = (draw: Draw, range: readonly [number, number], stem: string): readonly string[] =>
  Array.from({ length: draw.whole(...range) }, (_, index) => `${stem}-${index + 1}`);

const drawStations = (
  draw: Draw,
  wishes: WorldWishes,
  season: Season,
  around: Omit<PotSurroundings, 'room' | 'gateway'>,
): readonly WorldStation[] => {
  const bench: PotSurroundings = { ...around, room: 'room-1', gateway: 'gw1' };
  const store: PotSurroundings = { ...around, room: 'room-1', gateway: 'gw2' };
  const setback = wishes.setbackKelvin;
  const airing = wishes.airing ?? { timesADay: [0, 2] as const, minutes: [2, 7] as const };
  const room = planRoom('room-1', store, draw.branch('room-1'), {
    season,
    ...(wishes.cooledRoom === undefined ? {} : { isCooled: wishes.cooledRoom }),
    ...(setback === undefined ? {} : { setbackKelvin: draw.uniform(...setback) }),
    airing: { timesADay: draw.whole(...airing.timesADay), minutes: airing.minutes },
  });
  const cabinet = (id: string) => {
    const isRegulated = wishes.regulatedCabinets ?? draw.chance(0.3);
    return planCabinet(id, store, draw.branch(id), { isRegulated, isEmpty: wishes.cabinetsEmpty ?? false });
  };
  return [
    ...ids(draw, wishes.pots ?? [1, 2], 'pot').map((id) =>
      planPot(id, bench, draw.branch(id), wishes.pot ?? {}),
    ),
    ...ids(draw, wishes.annealers ?? [0, 1], 'annealer').map((id) =>
      planAnnealer(id, bench, draw.branch(id)),
    ),
    ...ids(draw, wishes.baths ?? [0, 1], 'bath').map((id) =>
      planBath(id, bench, draw.branch(id), wishes.bathCoolsAtNoon ?? false),
    ),
    ...ids(draw, wishes.lamps ?? [0, 1], 'lamp').map((id) => planLamp(id, bench, draw.branch(id))),
    ...ids(draw, wishes.shelves ?? [0, 1], 'shelf').map((id) =>
      planShelf(id, store, draw.branch(id), wishes.sunnyShelf ?? false),
    ),
    ...ids(draw, wishes.cabinets ?? [0, 1], 'cab').map(cabinet),
    room,
  ];
};

const holidayOf = (days: readonly CalendarDay[]): readonly string[] => {
  const worked = days.slice(1, -1).filter(({ work }) => work !== null);
  const day = worked[Math.floor(worked.length * 0.6)];
  return day ? [day.date] : [];
};

export const drawWorld = (seed: number, name: string, wishes: WorldWishes): WorldPlan => {
  const draw = drawFrom(seed, name);
  const season = draw.pick(wishes.seasons ?? (['winter', 'transition', 'summer'] as const));
  const hours = drawHours(draw.branch('hours'), wishes);
  const { date, length } = drawDates(draw.branch('dates'), hours, season, wishes);
  const before = nextDate(date, -1);
  const open = calendar(hours, before, length + 2, []);
  const days = wishes.holiday ? calendar(hours, before, length + 2, holidayOf(open)) : open;
  const climate = drawClimate(draw.branch('climate'), season);
  const starts = clockTime(hours, date, '00:00');
  const ends = clockTime(hours, nextDate(date, length), '00:00');
  return {
    seed: Math.floor(draw.branch('seed').source() * 2 ** 31),
    hours,
    days,
    starts,
    ends,
    climate: wishes.clearSky ? { ...climate, cloud: 0.15 } : climate,
    stations: drawStations(draw.branch('stations'), wishes, season, { hours, calendar: days, days: length }),
    gateways: drawGateways(draw.branch('gateways'), starts, ends),
  };
};
