// What people forget: a pot left on, a pot not filled up, a charge that is never changed.

import { type CalendarDay, DAY, HOUR, MINUTE } from '../days/calendar.ts';
import { workSpans } from '../days/heater-day.ts';
import type { Draw } from '../draw/draw.ts';
import type { PotPlan, WorldPlan } from '../world/plan.ts';
import { column } from '../world/record.ts';
import {
  type InjectedFault,
  laterDays,
  pickFrom,
  spell,
  stationsOf,
  type TrueSpell,
  type WorldOutcome,
} from './injection.ts';

/** Left on from the evening of one day to the next opening. */
const leftOn = (world: WorldPlan, pot: PotPlan, index: number): readonly TrueSpell[] | null => {
  const day = world.days[index];
  if (!day?.work) return null;
  const next = world.days.slice(index + 1).find(({ work }) => work !== null);
  const morning = next?.work?.opens ?? world.ends;
  const run = pot.runs.findLast(({ from }) => from >= day.start && from < day.end);
  if (!run) return null;
  const begins = day.work.closes;
  const ends = Math.min(world.ends, morning);
  pot.spells.push({ from: run.from, to: ends, set: { on: true } });
  return [spell(pot.id, begins, ends, ['molten-after-hours'])];
};

/** The worked day before the Sunday on which clocks change, where the case holds one. */
const beforeClockChange = (world: WorldPlan) =>
  world.days.slice(1, -1).findLast(({ work }, index, inside) => {
    const next = inside[index + 1];
    const after = next?.work === null ? next : undefined;
    const sunday = after && after.end - after.start === DAY ? inside[index + 2] : after;
    return work !== null && sunday !== undefined && sunday.end - sunday.start !== DAY;
  });

export const forgottenOvernight: InjectedFault = {
  wishes: { days: [4, 6], pots: [1, 2] },
  variant: { share: 0.2, wishes: { days: [6, 7], clockChange: true, worksSaturday: true } },
  inject: (world, draw) => {
    const pot = pickFrom(draw, stationsOf(world, 'pot'));
    const free = (candidate: CalendarDay) => world.days[world.days.indexOf(candidate) + 1]?.work === null;
    const day =
      beforeClockChange(world) ??
      pickFrom(
        draw,
        laterDays(world, 1).filter((candidate) => !free(candidate)),
      );
    return pot && day && leftOn(world, pot, world.days.indexOf(day));
  },
};

export const forgottenWeekend: InjectedFault = {
  wishes: { days: [8, 9], pots: [1, 1], startsOn: [1, 2], worksSaturday: false },
  variant: { share: 0.2, wishes: { clockChange: true } },
  inject: (world, draw) => {
    const pot = pickFrom(draw, stationsOf(world, 'pot'));
    const friday = laterDays(world).findLast((candidate) => {
      const at = world.days.indexOf(candidate);
      return !world.days[at + 1]?.work && at + 2 < world.days.length;
    });
    return pot && friday ? leftOn(world, pot, world.days.indexOf(friday)) : null;
  },
};

const usualLowest = (pot: PotPlan) => Math.max(pot.bareBelow + 0.2, 0.72);

/** When the level fell below all that is usual. */
const fellLow =
  (pot: PotPlan, from: number) =>
  ({ records }: WorldOutcome): number => {
    const record = records.get(pot.id);
    if (record === undefined) return from;
    const level = column(record, 'level');
    const first = Math.max(0, Math.floor((from - record.from) / record.stepMillis));
    for (let i = first; i < level.length; i += 1)
      if ((level[i] ?? 1) < usualLowest(pot)) return record.from + i * record.stepMillis;
    return from;
  };

/** Wax goes out stroke by stroke and none comes in, until the mark below which probe or feeler is bare. */
const drain = (world: WorldPlan, pot: PotPlan, from: number, hours: number, draw: Draw): number => {
  const stays = pot.spells.filter(({ from: at, set }) => at < from || (set.addedShare ?? 0) === 0);
  pot.spells.splice(0, pot.spells.length, ...stays);
  const warm = pot.runs
    .map((run) => ({ from: Math.max(from, run.from + pot.warmUpSeconds * 1300), to: run.to }))
    .filter((run) => run.to - run.from > 10 * MINUTE);
  const spans = workSpans(world.days, warm, draw, { everyMinutes: 12, shortest: 4, longest: 12 });
  const share = ((1 - pot.bareBelow) / (hours * 3.2)) * 0.5;
  let left = 0.98;
  let last = from;
  for (const span of spans) {
    pot.spells.push({ ...span, set: { open: true, busy: true } });
    for (let i = 0; i < 2; i += 1) {
      const at = draw.uniform(span.from, span.to);
      if (left < pot.bareBelow - 0.06) break;
      pot.spells.push({ from: at, to: at, set: { open: true, busy: true, ladledShare: share } });
      left -= share;
      last = at;
    }
  }
  return last;
};

export const runningLow: InjectedFault = {
  wishes: { days: [5, 6], pots: [1, 2], pot: { stayOnAtPauses: true } },
  inject: (world, draw) => {
    const pot = pickFrom(draw, stationsOf(world, 'pot'));
    const [day] = laterDays(world);
    if (!pot || !day?.work) return null;
    const from = draw.uniform(day.work.opens, day.work.opens + 4 * HOUR);
    const last = drain(world, pot, from, draw.uniform(3, 9), draw);
    // Somebody sees it at last and fills it up.
    const filled = Math.min(world.ends, last + draw.uniform(20, 80) * MINUTE);
    for (let k = 0; k < 12; k += 1)
      pot.spells.push({
        from: filled + k * 9 * MINUTE,
        to: filled + k * 9 * MINUTE,
        set: { open: true, addedShare: 0.09 },
      });
    const ends = Math.min(world.ends, filled + 2 * HOUR);
    return [spell(pot.id, from, ends, ['bare', 'over-ceiling'], { beganAt: fellLow(pot, from) })];
  },
};

export const chargeCooked: InjectedFault = {
  wishes: { days: [6, 10], pots: [1, 1], baths: [0, 0], pot: { neverFilled: true, stayOnAtPauses: true } },
  inject: (world, draw) => {
    const pot = pickFrom(draw, stationsOf(world, 'pot'));
    const late = laterDays(world, 1);
    const day = pickFrom(draw, late.slice(Math.floor(late.length / 2)));
    const run = pot?.runs.find(({ from }) => day && from >= day.start && from < day.end);
    if (!pot || !run) return null;
    const spent = draw.uniform(run.from + pot.warmUpSeconds * 1300, run.to - 30 * MINUTE);
    const begins = Math.max(world.starts + DAY, spent - 2.5 * DAY);
    return [spell(pot.id, begins, world.ends, [], { doseLimitAt: spent, harm: () => spent })];
  },
};
