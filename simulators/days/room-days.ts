// A room's days: heating by day and by night, people, windows opened for air, doors of what is in it.

import type { Draw } from '../draw/draw.ts';
import type { Spell } from './spell.ts';
import { type CalendarDay, MINUTE } from './calendar.ts';

export interface AiringHabit {
  readonly timesADay: number;
  readonly minutes: readonly [number, number];
}

export const roomDays = (days: readonly CalendarDay[], airing: AiringHabit, draw: Draw): readonly Spell[] =>
  days.flatMap(({ work }) => {
    if (work === null) return [];
    const spells: Spell[] = [
      { from: work.opens - draw.uniform(60, 110) * MINUTE, to: work.closes, set: { on: true } },
      { from: work.opens, to: work.closes, set: { busy: true } },
    ];
    for (let i = 0; i < airing.timesADay; i += 1) {
      const from = draw.uniform(work.opens, work.closes - 30 * MINUTE);
      spells.push({ from, to: from + draw.uniform(...airing.minutes) * MINUTE, set: { open: true } });
    }
    return spells;
  });

/** Doors of a cabinet: opened some seconds to a minute and a half at a time. */
export const doorDays = (days: readonly CalendarDay[], timesADay: number, draw: Draw): readonly Spell[] =>
  days.flatMap(({ work }) => {
    if (work === null) return [];
    return Array.from({ length: timesADay }, () => {
      const from = draw.uniform(work.opens, work.closes - 5 * MINUTE);
      return { from, to: from + draw.uniform(0.2, 1.2) * MINUTE, set: { open: true } };
    });
  });
