// A set point that somebody changed: tops and bottoms of a heater move at once, from one cycle to the next, and stay there,
// while it heats for as large a share of the time as before. Work and a lid change that share; a sensor that drifts moves
// tops and bottoms from cycle to cycle. Overnight nobody sees that; but tops that stood still all day, and on the next day
// stand still elsewhere, were moved by a knob: a sensor that drifts would go on.

import { median } from '../../../wax/numbers/median.ts';
import { MILLIS_PER_MINUTE } from '../../../wax/units.ts';
import type { DayTops } from './day-tops.ts';
import type { HeatCycle, HeaterBand } from './heater-band.ts';
import { TEN_MINUTES_MILLIS, type TenMinutes } from './ten-minutes.ts';

const TURNS = 4;
/** Kelvins; less is no turn of a knob, and more goes out of the window. */
const LEAST_CHANGE = 0.6;
const MOST_CHANGE = 4;
/** Of the change: how far turns of one setting lie apart at most; along a line they would lie three times as far. */
const MOST_SCATTER = 0.25;
/** Kelvins; steps of a probe, and readings that fall beside the turn. */
const NOISE = 0.15;
/** Of the change: how far bottoms may move unlike tops. */
const MOST_UNLIKE = 0.5;
/** Share of the time that it heats, against before: two kelvins more take a twentieth more. */
const MOST_OTHER_SHARE = 1.12;
/** From one turn to the next; longer is a night or a pause. */
const LONGEST_MILLIS = 90 * MILLIS_PER_MINUTE;
/** People turn a knob to and fro between few settings. */
const KEPT_CHANGES = 3;

const medianOf = (turns: readonly HeatCycle[], figureOf: (turn: HeatCycle) => number): number =>
  median(turns.map(figureOf));
const topOf = ({ high }: HeatCycle): number => high;
const bottomOf = ({ low }: HeatCycle): number => low;
const heatingShare = ({ fallSeconds, riseSeconds }: HeatCycle): number =>
  riseSeconds / (riseSeconds + fallSeconds);

/** But for the furthest of them. */
const scatterOf = (turns: readonly HeatCycle[]): number => {
  const middle = medianOf(turns, topOf);
  const off = turns.map(({ high }) => Math.abs(high - middle)).sort((a, b) => a - b);
  return off.at(-2) ?? 0;
};

/** Whether the set point was changed between some turns and others. */
function isChanged(before: readonly HeatCycle[], newest: readonly HeatCycle[]): boolean {
  const change = medianOf(newest, topOf) - medianOf(before, topOf);
  const size = Math.abs(change);
  if (size < LEAST_CHANGE || size > MOST_CHANGE) return false;
  const most = Math.max(NOISE, MOST_SCATTER * size);
  if (scatterOf(before) > most || scatterOf(newest) > most) return false;
  const ofBottoms = medianOf(newest, bottomOf) - medianOf(before, bottomOf);
  const other = medianOf(newest, heatingShare) / medianOf(before, heatingShare);
  const isAlike = other < MOST_OTHER_SHARE && other > 1 / MOST_OTHER_SHARE;
  return isAlike && Math.abs(ofBottoms - change) <= MOST_UNLIKE * size + NOISE;
}

/** Keeps, beside the tops of the first days, where the set point was moved to. Called when a cycle has closed. */
export function followSetPoint({ cycles, reference }: HeaterBand): HeaterBand['reference'] {
  // Before its first range is known, its first days are not over.
  if (reference?.lowest === undefined) return reference;
  const newest = cycles.slice(-TURNS);
  // The turn in between may be of both settings.
  const before = cycles.slice(-2 * TURNS - 1, -TURNS - 1);
  if (before.length < TURNS) return reference;
  const all = cycles.slice(-2 * TURNS - 1);
  const isAtOnce = all.every(({ at }, index) => at - (all[index - 1]?.at ?? at) <= LONGEST_MILLIS);
  const isCalm = ![...before, ...newest].some(({ disturbed }) => disturbed);
  if (!isAtOnce || !isCalm || !isChanged(before, newest)) return reference;
  return noteMove(reference, medianOf(newest, topOf));
}

/** Keeps beside the tops of the first days that they are at `top` now, °C. */
export function noteMove(reference: HeaterBand['reference'], top: number): HeaterBand['reference'] {
  if (reference === null) return null;
  const moved = [...(reference.moved ?? []), top - reference.high];
  return { ...reference, moved: moved.slice(-KEPT_CHANGES) };
}

/** A top falls into each half hour, also where people work. */
const STRETCHES_A_TOP = 3;
const HALF_HOUR_MILLIS = STRETCHES_A_TOP * TEN_MINUTES_MILLIS;
/** After a warm-up its layers become alike. */
const SETTLING_MILLIS = 45 * MILLIS_PER_MINUTE;
/** Half hours of a day that show whether it stood still. */
const FEWEST_OF_DAY = 6;
/** After so many half hours it is a knob: a sensor that drifts has gone on by then. */
const FEWEST_SINCE = 8;
/** While it is switched off its last tops sink. */
const LEFT_OUT_AT_END = 2;
/** Of the change: how far tops may move within either day. */
const MOST_WITHIN_DAY = 0.15;
/** Of what a sensor that drifted there overnight would have gone on by, and kelvins at least: so much is its drift. */
const LEAST_GOING_ON = { share: 0.5, kelvins: 0.1 };
/** A setting that is known already is not kept twice, kelvins. */
const SAME_SETTING = 0.5;

/** The highest value of each half hour from when its warm-up had settled, °C; of lower ones it was off. */
function topsSince(
  { usual }: Pick<HeaterBand, 'usual'>,
  closed: readonly TenMinutes[],
  since: number,
): number[] {
  const least = (usual?.low ?? Number.POSITIVE_INFINITY) - MOST_CHANGE;
  const settled = closed.findIndex(({ at }) => at >= since + SETTLING_MILLIS);
  const tops: number[] = [];
  if (settled === -1) return tops;
  for (let from = settled; from + STRETCHES_A_TOP <= closed.length; from += STRETCHES_A_TOP) {
    const stretches = closed.slice(from, from + STRETCHES_A_TOP);
    const top = Math.max(...stretches.map(({ high }) => high));
    const isWhole =
      (stretches.at(-1)?.at ?? 0) - (stretches[0]?.at ?? 0) === (STRETCHES_A_TOP - 1) * TEN_MINUTES_MILLIS;
    if (isWhole && top >= least) tops.push(top);
  }
  return tops;
}

/**
 * Tops of a day at work, for the next one; undefined where it was too short.
 * @param closed ten minutes that are over, oldest first
 * @param since when it became hot, epoch milliseconds
 */
export function topsOfDay(
  band: Pick<HeaterBand, 'usual'>,
  closed: readonly TenMinutes[],
  since: number,
): DayTops | undefined {
  const tops = topsSince(band, closed, since).slice(0, -LEFT_OUT_AT_END);
  if (tops.length < FEWEST_OF_DAY) return undefined;
  const third = Math.floor(tops.length / 3);
  const endedAt = closed.at(-1)?.at ?? since;
  return { first: median(tops.slice(0, third)), last: median(tops.slice(-third)), endedAt };
}

/**
 * The top that the set point was turned to since the last day at work, °C; null where it was not, and while a sensor that
 * drifts would not have shown yet.
 */
function findTurnedOvernight(
  band: Pick<HeaterBand, 'day' | 'usual'>,
  closed: readonly TenMinutes[],
  since: number,
): number | null {
  const { day } = band;
  if (day === undefined || Math.abs(day.last - day.first) > MOST_WITHIN_DAY * MOST_CHANGE) return null;
  const tops = topsSince(band, closed, since);
  if (tops.length < FEWEST_SINCE) return null;
  const top = median(tops);
  const size = Math.abs(top - day.last);
  const most = Math.max(NOISE, MOST_WITHIN_DAY * size);
  const half = Math.floor(tops.length / 2);
  const moved = median(tops.slice(-half)) - median(tops.slice(0, half));
  const isOther = size >= LEAST_CHANGE && size <= MOST_CHANGE;
  if (!isOther || Math.abs(day.last - day.first) > most || Math.abs(moved) > most) return null;
  const drifting = (size * half * HALF_HOUR_MILLIS) / Math.max(HALF_HOUR_MILLIS, since - day.endedAt);
  const goesOn = moved * Math.sign(top - day.last);
  return goesOn > Math.max(LEAST_GOING_ON.kelvins, LEAST_GOING_ON.share * drifting) ? null : top;
}

/** Keeps a set point that was turned since the last day at work. Called when ten minutes are over. */
export function followOvernight(
  band: HeaterBand,
  closed: readonly TenMinutes[],
  since: number,
): HeaterBand['reference'] {
  const { reference } = band;
  if (reference?.lowest === undefined) return reference;
  const top = findTurnedOvernight(band, closed, since);
  if (top === null) return reference;
  const isKnown = [0, ...(reference.moved ?? [])].some(
    (shift) => Math.abs(top - reference.high - shift) < SAME_SETTING,
  );
  return isKnown ? reference : noteMove(reference, top);
}
