// A set point that somebody changed: tops and bottoms of a heater move at once, from one cycle to the next, and stay there,
// while it heats for as large a share of the time as before. Work and a lid change that share; a sensor that drifts moves
// tops and bottoms from cycle to cycle; and overnight nobody sees which of them it was.

import { median } from '../../../wax/numbers/median.ts';
import { MILLIS_PER_MINUTE } from '../../../wax/units.ts';
import type { HeatCycle, HeaterBand } from './heater-band.ts';

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
  return movedTo(reference, medianOf(newest, topOf));
}

/** Keeps beside the tops of the first days that they are at `top` now, °C. */
export function movedTo(reference: HeaterBand['reference'], top: number): HeaterBand['reference'] {
  if (reference === null) return null;
  const moved = [...(reference.moved ?? []), top - reference.high];
  return { ...reference, moved: moved.slice(-KEPT_CHANGES) };
}
