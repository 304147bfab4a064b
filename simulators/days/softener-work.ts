// Work at an annealer (loads in and out), a water bath (trays) and a lamp (minutes at a time).

import type { Draw } from '../draw/draw.ts';
import type { Spell } from './spell.ts';
import { type CalendarDay, MINUTE } from './calendar.ts';
import { type HeaterRun, workSpans } from './heater-day.ts';

export interface Soak {
  readonly from: number;
  readonly to: number;
}

/** Loads one after another, each soaked for its time and some minutes more. */
export const soaksOf = (
  runs: readonly HeaterRun[],
  warmMinutes: number,
  soakMinutes: number,
  draw: Draw,
): readonly Soak[] => {
  const soaks: Soak[] = [];
  for (const run of runs) {
    let from = run.from + (warmMinutes + draw.uniform(5, 40)) * MINUTE;
    for (;;) {
      const to = from + (soakMinutes + draw.uniform(4, 20)) * MINUTE;
      if (to > run.to - 5 * MINUTE) break;
      soaks.push({ from, to });
      from = to + draw.uniform(15, 90) * MINUTE;
    }
  }
  return soaks;
};

/** The door stands open for half a minute or so at both ends, and at the first of them the load is cold. */
export const soakSpells = (soak: Soak, draw: Draw): readonly Spell[] => {
  const opening = (at: number) => ({
    from: at,
    to: at + draw.uniform(0.3, 0.9) * MINUTE,
    set: { open: true, openShare: draw.uniform(0.5, 1) },
  });
  const set = { open: true, freshLoad: true };
  const inserted = soak.from + 0.2 * MINUTE;
  return [opening(soak.from), { from: inserted, to: inserted, set }, opening(soak.to)];
};

export const bathWork = (
  days: readonly CalendarDay[],
  runs: readonly HeaterRun[],
  draw: Draw,
): readonly Spell[] =>
  workSpans(days, runs, draw, { everyMinutes: draw.uniform(30, 90), shortest: 3, longest: 12 }).map(
    (span) => ({ ...span, set: { open: true, busy: true } }),
  );

export const lampWork = (days: readonly CalendarDay[], draw: Draw): readonly Spell[] => {
  const runs = days.flatMap(({ work }) => (work === null ? [] : [{ from: work.opens, to: work.closes }]));
  const habit = { everyMinutes: draw.uniform(30, 150), shortest: 2, longest: 14 };
  return workSpans(days, runs, draw, habit).map((span) => ({
    ...span,
    set: { on: true, busy: draw.chance(0.5) },
  }));
};
