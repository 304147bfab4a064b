// Work at a pot: the lid comes off, dies are dipped, wax is ladled out and filled up again, cold or hot.

import type { Draw } from '../draw/draw.ts';
import type { Spell } from './spell.ts';
import { type CalendarDay, MINUTE } from './calendar.ts';
import { type HeaterRun, workSpans } from './heater-day.ts';

export interface PotHabit {
  readonly everyMinutes: number;
  readonly shortest: number;
  readonly longest: number;
  /** Ladle strokes a working span, and the share of the charge that one takes. */
  readonly strokes: number;
  readonly strokeShare: number;
  /** Filled up when so much is missing; people see the level when they work. */
  readonly topsUpBelow: number;
  readonly pieceShare: number;
  /** Some labs melt new wax in a second pot and pour it in hot. */
  readonly addsHotCelsius: number | null;
  /** Lid left off after work, so often and for so many minutes. */
  readonly lidOffShare: number;
  readonly lidOffMinutes: number;
}

/** @param nobodyFillsFrom from here on nobody fills it up. */
export const potWork = (
  days: readonly CalendarDay[],
  runs: readonly HeaterRun[],
  warmMinutes: number,
  habit: PotHabit,
  draw: Draw,
  nobodyFillsFrom = Number.POSITIVE_INFINITY,
): readonly Spell[] => {
  const spells: Spell[] = [];
  const warm = runs
    .map(({ from, to }) => ({ from: from + warmMinutes * MINUTE, to }))
    .filter(({ from, to }) => from < to);
  let missing = 0;
  for (const span of workSpans(days, warm, draw, habit)) {
    spells.push({ ...span, set: { open: true, busy: true } });
    const strokes = habit.strokes === 0 ? 0 : draw.whole(1, habit.strokes);
    for (let i = 0; i < strokes; i += 1) {
      const at = draw.uniform(span.from, span.to);
      spells.push({ from: at, to: at, set: { open: true, busy: true, ladledShare: habit.strokeShare } });
      missing += habit.strokeShare;
    }
    if (draw.chance(habit.lidOffShare))
      spells.push({
        from: span.to,
        to: span.to + habit.lidOffMinutes * draw.uniform(0.5, 1) * MINUTE,
        set: { open: true },
      });
    if (missing < habit.topsUpBelow || span.from > nobodyFillsFrom) continue;
    // New wax goes in a piece at a time, each when the last has melted.
    let at = span.to;
    while (missing > 0) {
      const share = Math.min(missing, habit.pieceShare * draw.uniform(0.7, 1.2));
      spells.push({
        from: at,
        to: at,
        set: { open: true, addedShare: share, addedCelsius: habit.addsHotCelsius },
      });
      missing -= share;
      at += draw.uniform(8, 20) * MINUTE;
    }
  }
  return spells;
};
