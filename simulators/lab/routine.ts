// What people do on one day: heaters on in the morning and off at night, lids, dips, trays, loads, doors. The plan of
// a day depends on the seed and the date alone, so that any day can be simulated without the days before it.

import { randomLcg, randomNormal } from 'd3-random';
import { seededSource } from '../probe/probe.ts';
import type { SimulatedDay } from './site-hours.ts';

type Doing = 'on' | 'open' | 'busy' | 'load' | 'top-up';

/** Someone does something at a station, or at the `room`, for a while. */
export interface RoutineSpell {
  readonly station: string;
  readonly doing: Doing;
  readonly from: number;
  readonly to: number;
}

const MINUTE = 60_000;
const HEATERS = ['dip-pot', 'melt-pot-crowns', 'melt-pot-plates', 'annealer', 'water-bath'] as const;
const HEATING_LEAD = 60 * MINUTE;

/** Spells through the working day with pauses between them, each of a length from `shortest` to `longest`. */
interface Habit {
  readonly station: string;
  readonly doing: Doing;
  readonly everyMinutes: number;
  readonly shortest: number;
  readonly longest: number;
}

const HABITS: readonly Habit[] = [
  { station: 'dip-pot', doing: 'busy', everyMinutes: 45, shortest: 8, longest: 25 },
  { station: 'melt-pot-crowns', doing: 'busy', everyMinutes: 30, shortest: 10, longest: 25 },
  { station: 'melt-pot-plates', doing: 'busy', everyMinutes: 70, shortest: 10, longest: 30 },
  { station: 'annealer', doing: 'open', everyMinutes: 55, shortest: 0.3, longest: 1.2 },
  { station: 'water-bath', doing: 'busy', everyMinutes: 60, shortest: 4, longest: 12 },
  { station: 'lamp', doing: 'on', everyMinutes: 95, shortest: 5, longest: 14 },
  { station: 'pattern-cabinet', doing: 'open', everyMinutes: 50, shortest: 0.2, longest: 1.5 },
  { station: 'room', doing: 'open', everyMinutes: 200, shortest: 3, longest: 8 },
];

/** Doors that take a load, and work that takes the lid off. */
const GOES_WITH: Readonly<Record<string, Doing>> = { annealer: 'load' };
const LIDDED = new Set<string>(['dip-pot', 'melt-pot-crowns', 'melt-pot-plates', 'water-bath']);

const habitSpells = (habit: Habit, opens: number, closes: number, source: () => number): RoutineSpell[] => {
  const spells: RoutineSpell[] = [];
  const { station, doing } = habit;
  let at = opens + (0.4 + source()) * habit.everyMinutes * MINUTE;
  while (at < closes - 20 * MINUTE) {
    const length = (habit.shortest + source() * (habit.longest - habit.shortest)) * MINUTE;
    const to = Math.min(at + length, closes - 10 * MINUTE);
    spells.push({ station, doing, from: at, to });
    if (LIDDED.has(station)) spells.push({ station, doing: 'open', from: at, to });
    const also = GOES_WITH[station];
    if (also !== undefined) spells.push({ station, doing: also, from: to - 0.2 * MINUTE, to });
    at = to + (0.5 + source()) * habit.everyMinutes * MINUTE;
  }
  return spells;
};

/** When each heater is switched on, in place of the morning's habit: the story of a day may set it. */
export type SwitchedOn = Readonly<Record<string, number>>;

export const planDay = (
  day: SimulatedDay,
  seed: number,
  switchedOn: SwitchedOn = {},
): readonly RoutineSpell[] => {
  if (day.work === null) return [];
  const { opens, closes } = day.work;
  const source = seededSource(seed, day.date);
  const normal = randomNormal.source(randomLcg(source()))(0, 1);
  const spells: RoutineSpell[] = [
    { station: 'room', doing: 'on', from: opens - HEATING_LEAD, to: closes },
    { station: 'room', doing: 'busy', from: opens, to: closes },
  ];
  HEATERS.forEach((station, index) => {
    const usual = opens + (2 + index * 2 + Math.abs(normal()) * 3) * MINUTE;
    const from = switchedOn[station] ?? usual;
    const to = closes - (3 + Math.abs(normal()) * 6) * MINUTE;
    spells.push({ station, doing: 'on', from, to });
    spells.push({ station, doing: 'top-up', from: from - MINUTE, to: from });
  });
  for (const habit of HABITS) spells.push(...habitSpells(habit, opens + 25 * MINUTE, closes, source));
  return spells;
};
