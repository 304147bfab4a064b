// A probe of a place whose readings leap to both sides of what they were: a door or a window moves a place to one side and
// lets it come back, a loose contact does not ask which side.

import { MILLIS_PER_MINUTE } from '../../../wax/units.ts';

/** Plain JSON, replaced as a whole with each reading. Temperatures in °C, instants in epoch milliseconds. */
export interface Zigzag {
  readonly at: number;
  readonly celsius: number;
  /** Kelvins to it from the reading before. */
  readonly move: number;
  /** What it was over the last half hour. */
  readonly base: number;
  /** Usual size of a move, kelvins. */
  readonly stir: number;
  /** When it last leapt above its base and back, and below it; 0: never. */
  readonly peakAt: number;
  readonly troughAt: number;
}

/** Kelvins, and usual moves. Engineering estimates. */
const LEAST_LEAP = 1.5;
const LEAP_STIRS = 6;
/** Read less often, a window may have been opened and closed between readings. */
const NEIGHBOURS_MILLIS = 200_000;
const TOGETHER_MILLIS = 15 * MILLIS_PER_MINUTE;
const BASE_MILLIS = 30 * MILLIS_PER_MINUTE;
/** The usual move follows slowly, and no leap counts for more than some of them. */
const STIR_GAIN = 0.01;
const MOST_STIRS = 3;
const FIRST_STIR = 0.25;

export const startZigzag = (at: number, celsius: number): Zigzag => ({
  at,
  celsius,
  move: 0,
  base: celsius,
  stir: FIRST_STIR,
  peakAt: 0,
  troughAt: 0,
});

/** Kelvins that no noise reaches from one reading to the next. */
export const noiseReach = ({ stir }: Zigzag): number => LEAP_STIRS * stir;

export function zigzagStep(before: Zigzag, at: number, celsius: number): Zigzag {
  const elapsed = at - before.at;
  const move = celsius - before.celsius;
  const base = celsius + Math.exp(-elapsed / BASE_MILLIS) * (before.base - celsius);
  const counted = Math.min(Math.abs(move), MOST_STIRS * before.stir);
  const stir = before.stir + STIR_GAIN * (counted - before.stir);
  const next = { ...before, at, celsius, move, base, stir };
  const least = Math.max(LEAST_LEAP, noiseReach(before));
  const isTurn = before.move * move < 0 && Math.min(Math.abs(move), Math.abs(before.move)) >= least;
  if (elapsed > NEIGHBOURS_MILLIS || !isTurn) return next;
  const beyond = (before.celsius - before.base) * Math.sign(before.move);
  if (beyond < least / 2) return next;
  return before.move > 0 ? { ...next, peakAt: before.at } : { ...next, troughAt: before.at };
}

/** Whether it leapt to both sides within some minutes of now. */
export const leapsToBothSides = ({ at, peakAt, troughAt }: Zigzag): boolean =>
  at - Math.min(peakAt, troughAt) <= TOGETHER_MILLIS;
