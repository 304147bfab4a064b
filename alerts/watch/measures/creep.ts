// Turns of a heater that move along a straight line. Its thermostat feels the wax by a sensor of its own, so that the wax
// goes on turning where it did; when all tops and bottoms move alike for an hour, one of the two sensors drifts. A knob
// moves them once, cold wax and a warm-up along a bend, and work takes them back to where they were.

import { SimpleLinearRegression } from 'ml-regression-simple-linear';
import { median } from '../../../wax/numbers/median.ts';
import { MILLIS_PER_HOUR } from '../../../wax/units.ts';
import type { HeatCycle, HeaterBand } from './heater-band.ts';
import { TEN_MINUTES_MILLIS, type TenMinutes } from './ten-minutes.ts';

/** What its tops moved from and to, °C, and since when, epoch milliseconds. */
export interface Creep {
  readonly since: number;
  readonly from: number;
  readonly to: number;
  /** Its bottoms say nothing: somebody works at it. */
  readonly isOfTops: boolean;
}

/** A cycle, or ten minutes of quicker or steady control. Instants in epoch milliseconds, temperatures in °C. */
interface Turn {
  readonly from: number;
  readonly to: number;
  readonly low: number;
  readonly high: number;
}

const FEWEST_TURNS = 4;
const FEWEST_BEFORE = 4;
const LEAST_MILLIS = 0.3 * MILLIS_PER_HOUR;
const MOST_MILLIS = 3.5 * MILLIS_PER_HOUR;
/** So many reach beyond that. */
const MOST_TEN_MINUTES = Math.floor(MOST_MILLIS / TEN_MINUTES_MILLIS) + 1;
/** After the warm-up, the layers of the wax take so long to become alike: upwards longer. */
const SETTLING_MILLIS = 0.75 * MILLIS_PER_HOUR;
const SETTLING_UP_MILLIS = 1.5 * MILLIS_PER_HOUR;
/** Work lets it fall below its bottoms, and leaves it time for a top in half an hour: ten minutes that make one. */
const TEN_MINUTES_A_TOP = 3;
/** Kelvins that such a top may lie off the line more than others; and the fastest pace, beyond which a knob was turned. */
const TOP_NOISE = 0.2;
const MOST_TOP_KELVIN_PER_HOUR = 3;
/** Share of the change of tops by which the highest bottoms follow at least, scattered as they are by work. */
const LEAST_FOLLOW = 0.3;
/** Of the whole change: how far a turn may lie off the line, and tops may move further than bottoms. */
const MOST_OFF = 0.08;
const MOST_UNLIKE = 0.3;
/** Kelvins; readings fall beside the turn, and in steps of the probe. */
const NOISE = 0.08;
const ROUNDING = 1e-6;
/** Share of the change by which it goes beyond what was there before; and of that, what cold wax or a warm-up left. */
const BEYOND_SHARE = 0.8;
const STRAY_SHARE = 0.1;
/** Ten minutes that move by more of their range hold no turn: it is off, and cools. */
const MOST_MOVED = 0.7;
/** Nor does a sensor drift faster; wax that cools does. Engineering estimate. */
const MOST_KELVIN_PER_HOUR = 6;
/** Several quicker cycles fall into ten minutes; narrower ones are those of steady control. */
const QUICK_MILLIS = 5 * 60_000;
const NARROW = 1.2;
/** Kelvins, and times the usual range: ten minutes that span more are those of cold wax or a knob. */
const WIDE = 1.5;
const WIDE_TIMES = 2;

const middleOf = ({ high, low }: Turn): number => (high + low) / 2;
const topOf = (turn: Turn): Turn => ({ ...turn, low: turn.high });
const periodOf = ({ fallSeconds, riseSeconds }: HeatCycle): number => 1000 * (riseSeconds + fallSeconds);

/** `each` stretches of ten minutes a turn, newest first; those in between where some are missing are left out. */
function turnsOf(
  closed: readonly TenMinutes[],
  each: number,
  most = Number.POSITIVE_INFINITY,
  lowOf: (first: number, second: number) => number = Math.min,
): readonly Turn[] {
  const turns: Turn[] = [];
  for (let end = closed.length; end >= each && turns.length < most; end -= each) {
    const from = closed[end - each]?.at ?? 0;
    const to = (closed[end - 1]?.at ?? 0) + TEN_MINUTES_MILLIS;
    if (to - from !== each * TEN_MINUTES_MILLIS) continue;
    let low = closed[end - 1]?.low ?? 0;
    let high = Number.NEGATIVE_INFINITY;
    for (let index = end - each; index < end; index += 1) {
      low = lowOf(low, closed[index]?.low ?? low);
      high = Math.max(high, closed[index]?.high ?? high);
    }
    turns.push({ from, to, low, high });
  }
  return turns;
}

/** Cycles, newest first; null where ten minutes show its turns: they are quick, or narrow, or it cycles no more. */
function longCycles(cycles: readonly HeatCycle[], closed: readonly TenMinutes[], period: number) {
  const now = (closed.at(-1)?.at ?? 0) + TEN_MINUTES_MILLIS;
  const isCycling =
    cycles.length >= FEWEST_TURNS &&
    period > QUICK_MILLIS &&
    median(cycles.map(({ high, low }) => high - low)) > NARROW &&
    now - (cycles.at(-1)?.at ?? 0) < 2 * period;
  if (!isCycling) return null;
  return cycles
    .map(
      (cycle): Turn => ({ from: cycle.at - periodOf(cycle), to: cycle.at, low: cycle.low, high: cycle.high }),
    )
    .reverse();
}

/** The tops of half hours, newest first, over the highest of their bottoms; but for those next to a warm-up or a switching off. */
const topsOf = (closed: readonly TenMinutes[], least: number, most?: number): readonly Turn[] =>
  turnsOf(closed, TEN_MINUTES_A_TOP, most, Math.max).filter((_, index, all) =>
    [all[index - 1], all[index + 1]].every((next) => next === undefined || next.high >= least),
  );

/** The newest third moves by this share of the third before it at least: a sensor that drifts goes on. */
const LEAST_GOING_ON = 0.6;

const meanOf = (turns: readonly Turn[], levelOf: (turn: Turn) => number): number =>
  turns.reduce((sum, turn) => sum + levelOf(turn), 0) / turns.length;

/** Wax that a lid, cold pieces or dipping cool nears a new level, ever more slowly. Newest first. */
function easesOff(turns: readonly Turn[], levelOf: (turn: Turn) => number): boolean {
  const third = Math.floor(turns.length / 3);
  const middle = meanOf(turns.slice(third, -third), levelOf);
  const lately = meanOf(turns.slice(0, third), levelOf) - middle;
  const before = middle - meanOf(turns.slice(-third), levelOf);
  return Math.sign(before) * lately < LEAST_GOING_ON * Math.abs(before);
}

/** Kelvins that turns in a row moved, all alike; 0 where they are on no line. */
function measureMove(turns: readonly Turn[], limit: number, areTops: boolean): number {
  const [first, last] = [turns[0], turns.at(-1)];
  if (first === undefined || last === undefined) return 0;
  // On a line both ends lie within what a turn may lie off it; nearly always they are too near, and no line is sought.
  const least = (1 - 2 * MOST_OFF) * limit - 2 * (areTops ? TOP_NOISE : NOISE);
  const apart = areTops ? first.high - last.high : middleOf(first) - middleOf(last);
  if (Math.abs(apart) < least - ROUNDING) return 0;
  if (easesOff(turns, areTops ? ({ high }) => high : middleOf)) return 0;
  const newest = first.to;
  const hours = turns.map(({ to }) => (to - newest) / MILLIS_PER_HOUR);
  const tops = new SimpleLinearRegression(
    hours,
    turns.map(({ high }) => high),
  );
  const bottoms = new SimpleLinearRegression(
    hours,
    turns.map(({ low }) => low),
  );
  const span = -(hours.at(-1) ?? 0);
  if (areTops) {
    const moved = tops.slope * span;
    const follow = (bottoms.slope * span) / moved;
    const most = MOST_OFF * Math.abs(moved) + TOP_NOISE;
    const isOff = turns.some(({ high }, index) => Math.abs(high - tops.predict(hours[index] ?? 0)) > most);
    const isKnob = Math.abs(tops.slope) > MOST_TOP_KELVIN_PER_HOUR;
    return Math.abs(moved) < limit || isOff || isKnob || follow < LEAST_FOLLOW ? 0 : moved;
  }
  const slope = (tops.slope + bottoms.slope) / 2;
  const moved = slope * span;
  if (Math.abs(moved) < limit) return 0;
  if (Math.abs(tops.slope - bottoms.slope) * span > MOST_UNLIKE * Math.abs(moved)) return 0;
  const most = MOST_OFF * Math.abs(moved) + NOISE;
  const isOff = (turn: Turn, index: number): boolean =>
    Math.abs(middleOf(turn) - (tops.predict(hours[index] ?? 0) + bottoms.predict(hours[index] ?? 0)) / 2) >
    most;
  if (turns.some(isOff)) return 0;
  const range = median(turns.map(({ high, low }) => high - low));
  const isCooling = (Math.abs(slope) * TEN_MINUTES_MILLIS) / MILLIS_PER_HOUR > MOST_MOVED * range;
  return isCooling || Math.abs(slope) > MOST_KELVIN_PER_HOUR ? 0 : moved;
}

/** Whether the newest turn lies beyond nearly all before the line, in its direction. */
function isBeyond(newest: Turn, before: readonly Turn[], moved: number): boolean {
  if (before.length < FEWEST_BEFORE) return false;
  const passed = before
    .map((turn) => Math.sign(moved) * (middleOf(newest) - middleOf(turn)))
    .sort((a, b) => a - b);
  return (passed[Math.floor(STRAY_SHARE * before.length)] ?? 0) >= BEYOND_SHARE * Math.abs(moved);
}

function creepAlong(
  turns: readonly Turn[],
  turnsBefore: () => readonly Turn[],
  since: number,
  least: number,
  limit: number,
  areTops = false,
): Creep | 'still' | null {
  const [newest] = turns;
  if (newest === undefined) return null;
  // Nearly always nothing moves, and they are those of days.
  let past: readonly Turn[] | null = null;
  let settled = 0;
  for (const [index, turn] of turns.entries()) {
    const gap = (turns[index - 1]?.from ?? turn.to) - turn.to;
    if (turn.from - since < SETTLING_MILLIS || turn.low < least || gap > TEN_MINUTES_MILLIS) break;
    settled = index + 1;
    const span = newest.to - turn.from;
    if (span > MOST_MILLIS) break;
    if (settled < FEWEST_TURNS || span < LEAST_MILLIS) continue;
    const line = turns.slice(0, settled);
    const moved = measureMove(line, limit, areTops);
    if (moved === 0 || (moved > 0 && turn.from - since < SETTLING_UP_MILLIS)) continue;
    const widest = Math.max(WIDE, WIDE_TIMES * median(line.map(({ high, low }) => high - low)));
    past ??= turnsBefore();
    const before = past.filter(({ high, low, to }) => to <= turn.from && low > least && high - low < widest);
    const compared = areTops ? before.map(topOf) : before;
    if (!isBeyond(areTops ? topOf(newest) : newest, compared, moved)) continue;
    const from = median(before.map(({ high }) => high));
    // Tops alone move less than work makes them scatter unless they have left their middle behind.
    if (areTops && Math.abs(newest.high - from) < limit) continue;
    return { since: turn.from, from, to: newest.high, isOfTops: areTops };
  }
  return settled < FEWEST_TURNS ? null : 'still';
}

interface Remembered {
  readonly since: number;
  readonly least: number;
  readonly limit: number;
  readonly cycles: readonly HeatCycle[];
  readonly creep: Creep | 'still' | null;
}
// Both change once in some minutes and are read at every reading.
const remembered = new WeakMap<readonly TenMinutes[], Remembered>();

/**
 * How far the newest turns of a heater that is hot moved along a line, beyond where it turned before; null while too few are
 * known since its warm-up.
 * @param closed ten minutes that are over, oldest first
 * @param since when it became hot, epoch milliseconds
 * @param least lower ones are those of a heater that is off or not yet molten, °C
 * @param limit kelvins
 */
export function creepOf(
  { cycles }: Pick<HeaterBand, 'cycles'>,
  closed: readonly TenMinutes[],
  since: number,
  least: number,
  limit: number,
): Creep | 'still' | null {
  const before = remembered.get(closed);
  if (before?.cycles === cycles && before.since === since && before.least === least && before.limit === limit)
    return before.creep;
  const period = median(cycles.map(periodOf));
  const long = longCycles(cycles, closed, period);
  const turns = long ?? turnsOf(closed, 1, MOST_TEN_MINUTES);
  const turnsBefore = (): readonly Turn[] =>
    turnsOf(closed, long === null ? 1 : Math.ceil(period / TEN_MINUTES_MILLIS));
  let creep = creepAlong(turns, turnsBefore, since, least, limit);
  if (creep === null || creep === 'still') {
    const tops = topsOf(closed, least, MOST_TEN_MINUTES / TEN_MINUTES_A_TOP);
    const ofTops = creepAlong(tops, () => topsOf(closed, least), since, least, limit, true);
    creep = creep ?? ofTops;
    if (ofTops !== null && ofTops !== 'still') creep = ofTops;
  }
  remembered.set(closed, { since, least, limit, cycles, creep });
  return creep;
}
