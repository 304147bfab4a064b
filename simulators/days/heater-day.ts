// When people switch a heater on and off: at opening, before it by a timer, off or left on at lunch, late evenings.

import type { Draw } from '../draw/draw.ts';
import type { Spell } from './spell.ts';
import { type CalendarDay, MINUTE } from './calendar.ts';

export interface HeaterHabit {
  /** Minutes after opening; before it where negative (a timer, or somebody early). */
  readonly onAfterOpening: number;
  readonly offBeforeClosing: number;
  readonly offAtPauses: boolean;
  /** Minutes after closing on the evenings on which somebody works late; 0 for none. */
  readonly lateMinutes: number;
  readonly lateShare: number;
}

export interface HeaterRun {
  readonly from: number;
  readonly to: number;
}

/** Runs of one heater; each is on for the whole of it. */
export const heaterRuns = (
  days: readonly CalendarDay[],
  habit: HeaterHabit,
  draw: Draw,
): readonly HeaterRun[] =>
  days.flatMap(({ work }) => {
    if (work === null) return [];
    const from = work.opens + (habit.onAfterOpening + Math.abs(draw.normal()) * 2) * MINUTE;
    const isLate = draw.chance(habit.lateShare);
    const to = isLate
      ? work.closes + habit.lateMinutes * draw.uniform(0.6, 1) * MINUTE
      : work.closes - (habit.offBeforeClosing + Math.abs(draw.normal()) * 4) * MINUTE;
    if (!habit.offAtPauses) return [{ from, to }];
    const runs: HeaterRun[] = [];
    let begins = from;
    for (const pause of work.pauses) {
      runs.push({ from: begins, to: pause.from - draw.uniform(0, 4) * MINUTE });
      begins = pause.to - draw.uniform(0, 6) * MINUTE;
    }
    runs.push({ from: begins, to });
    return runs;
  });

export const onSpells = (runs: readonly HeaterRun[]): readonly Spell[] =>
  runs.map(({ from, to }) => ({ from, to, set: { on: true } }));

/** Spans of work through the runs, with breaks between; none in pauses. */
export const workSpans = (
  days: readonly CalendarDay[],
  runs: readonly HeaterRun[],
  draw: Draw,
  habit: { readonly everyMinutes: number; readonly shortest: number; readonly longest: number },
): readonly HeaterRun[] => {
  const pauses = days.flatMap(({ work }) => work?.pauses ?? []);
  const spans: HeaterRun[] = [];
  for (const run of runs) {
    let at = run.from + draw.uniform(0.3, 1.2) * habit.everyMinutes * MINUTE;
    while (at < run.to - 5 * MINUTE) {
      const to = Math.min(run.to - MINUTE, at + draw.uniform(habit.shortest, habit.longest) * MINUTE);
      const pause = pauses.find(({ from, to: end }) => at < end && to > from);
      if (pause === undefined) {
        spans.push({ from: at, to });
        at = to + draw.uniform(0.5, 1.5) * habit.everyMinutes * MINUTE;
      } else {
        // Work that a pause cuts short ends with it; the next begins some minutes after it.
        if (at < pause.from - 2 * MINUTE) spans.push({ from: at, to: pause.from });
        at = Math.max(at, pause.to) + draw.uniform(1, 12) * MINUTE;
      }
    }
  }
  return spans;
};
