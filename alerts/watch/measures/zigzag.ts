// A probe whose readings leap to both sides of what they were: a door, a window or cold wax moves it to one side and lets it
// come back, a loose contact goes to either side.

import { MILLIS_PER_MINUTE } from '../../../wax/units.ts';

/** Plain JSON, advanced in place. Temperatures in °C, instants in epoch milliseconds. */
export interface Zigzag {
  at: number;
  celsius: number;
  /** Kelvins to it from the reading before; and the same of that one, absent in states stored before it was kept. */
  move: number;
  moveBefore?: number;
  /** What it was over the last half hour. */
  base: number;
  /** Usual size of a move, kelvins. */
  stir: number;
  /** When it last leapt above its base and back, and below it; 0: never. */
  peakAt: number;
  troughAt: number;
}

/** What a leap is at a kind of station. Engineering estimates. */
export interface LeapScale {
  /** Kelvins, and usual moves, that it goes at least, there and back. */
  readonly leastKelvins: number;
  readonly stirs: number;
  /** How fast the usual move follows. */
  readonly stirGain: number;
  /** Moves to one side that make a leap: a contact may let go in between. */
  readonly mostMoves: 1 | 2;
}
export const PLACE_LEAPS: LeapScale = { leastKelvins: 1.5, stirs: 6, stirGain: 0.01, mostMoves: 1 };
/** A heater moves all day and rests at night; each warm-up shows anew how far it moves from one reading to the next. */
export const HEATER_LEAPS: LeapScale = { leastKelvins: 3, stirs: 3, stirGain: 0.05, mostMoves: 2 };
/** Read less often, a window may have been opened and closed between readings. */
const NEIGHBOURS_MILLIS = 200_000;
const TOGETHER_MILLIS = 15 * MILLIS_PER_MINUTE;
const BASE_MILLIS = 30 * MILLIS_PER_MINUTE;
/** No leap counts for more than some usual moves. */
const MOST_STIRS = 3;
const FIRST_STIR = 0.25;

export const startZigzag = (at: number, celsius: number): Zigzag => ({
  at,
  celsius,
  move: 0,
  moveBefore: 0,
  base: celsius,
  stir: FIRST_STIR,
  peakAt: 0,
  troughAt: 0,
});

/** Kelvins that no noise reaches from one reading to the next. */
export const noiseReach = ({ stir }: Zigzag, { stirs }: LeapScale): number => stirs * stir;

export function advanceZigzag(zigzag: Zigzag, at: number, celsius: number, scale: LeapScale): void {
  const { at: lastAt, base, celsius: last, move: lastMove, moveBefore = 0, stir } = zigzag;
  const move = celsius - last;
  const least = Math.max(scale.leastKelvins, noiseReach(zigzag, scale));
  const leapt = lastMove + (scale.mostMoves === 2 && lastMove * moveBefore > 0 ? moveBefore : 0);
  const isTurn = lastMove * move < 0 && Math.min(Math.abs(move), Math.abs(leapt)) >= least;
  if (isTurn && at - lastAt <= NEIGHBOURS_MILLIS && (last - base) * Math.sign(lastMove) >= least / 2) {
    if (lastMove > 0) zigzag.peakAt = lastAt;
    else zigzag.troughAt = lastAt;
  }
  zigzag.at = at;
  zigzag.celsius = celsius;
  zigzag.moveBefore = lastMove;
  zigzag.move = move;
  zigzag.base = celsius + Math.exp(-(at - lastAt) / BASE_MILLIS) * (base - celsius);
  zigzag.stir = stir + scale.stirGain * (Math.min(Math.abs(move), MOST_STIRS * stir) - stir);
}

/** Whether it leapt to both sides within some minutes of now. */
export const leapsToBothSides = ({ at, peakAt, troughAt }: Zigzag): boolean =>
  at - Math.min(peakAt, troughAt) <= TOGETHER_MILLIS;
