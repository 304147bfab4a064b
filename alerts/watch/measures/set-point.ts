// A set point that somebody changed: tops and bottoms of a heater move at once, from one cycle to the next, and stay there.
// A sensor that drifts moves them from cycle to cycle, and overnight nobody sees which of the two it was.

import { median } from '../../../wax/numbers/median.ts';
import { MILLIS_PER_MINUTE } from '../../../wax/units.ts';
import type { HeatCycle, HeaterBand } from './heater-band.ts';

const TURNS = 4;
/** Kelvins; less is no turn of a knob, and more is a lid, or goes out of the window. */
const LEAST_CHANGE = 0.6;
const MOST_CHANGE = 4;
/** Of the change: how far turns of one setting lie apart at most; along a line they would lie three times as far. */
const MOST_SCATTER = 0.25;
/** Kelvins; steps of a probe, and readings that fall beside the turn. */
const NOISE = 0.15;
/** Of the change: how far bottoms may move unlike tops. */
const MOST_UNLIKE = 0.5;
/** From the last turn at one setting to the first at the next. */
const LONGEST_MILLIS = 90 * MILLIS_PER_MINUTE;

/** But for the furthest of them: work makes one stray. */
const scatterOf = (values: readonly number[]): number => {
  const middle = median(values);
  const off = values.map((value) => Math.abs(value - middle)).sort((a, b) => a - b);
  return off.at(-2) ?? 0;
};

/** Kelvins by which tops and bottoms moved at once from some turns to others; 0 where they did not. */
function changeBetween(before: readonly HeatCycle[], newest: readonly HeatCycle[]): number {
  const highs = [before, newest].map((turns) => turns.map(({ high }) => high));
  const change = median(newest.map(({ high }) => high)) - median(before.map(({ high }) => high));
  if (Math.abs(change) < LEAST_CHANGE || Math.abs(change) > MOST_CHANGE) return 0;
  const most = Math.max(NOISE, MOST_SCATTER * Math.abs(change));
  if (highs.some((tops) => scatterOf(tops) > most)) return 0;
  const ofBottoms = median(newest.map(({ low }) => low)) - median(before.map(({ low }) => low));
  return Math.abs(ofBottoms - change) <= MOST_UNLIKE * Math.abs(change) + NOISE ? change : 0;
}

/** What tops were at first goes with the set point. Called when a cycle, or ten minutes of steady control, are over. */
export function followSetPoint(band: HeaterBand): void {
  const { cycles, reference, stretches = [] } = band;
  if (reference === null) return;
  const turns = [...cycles, ...stretches].sort((first, second) => first.at - second.at);
  const newest = turns.slice(-TURNS);
  // The turn in between may be of both settings.
  const before = turns.slice(-2 * TURNS - 1, -TURNS - 1);
  const [first, lastBefore] = [newest[0], before.at(-1)];
  if (first === undefined || lastBefore === undefined || before.length < TURNS) return;
  const isAtOnce = first.at - lastBefore.at <= LONGEST_MILLIS;
  if (!isAtOnce || (before[0]?.at ?? 0) <= (reference.setAt ?? 0)) return;
  const change = changeBetween(before, newest);
  if (change === 0) return;
  const { high, highest, lowest } = reference;
  band.reference = {
    ...reference,
    high: high + change,
    ...(lowest !== undefined && { lowest: lowest + change }),
    ...(highest !== undefined && { highest: highest + change }),
    setAt: first.at,
  };
}
