// How fast a pot falls while somebody works at it. An open lid and cold dies take about the same heat each time, so its
// steepest fall goes with one over the heat capacity of pot and wax: with half the wax it falls up to twice as fast. That
// shows where no rhythm does, because power is given in proportion and the temperature rests in between. Cold wax that
// goes in makes it fall faster still, and is left out. Earlier days show what is usual, or
// hours of the same day from which on they grow.

import { median } from '../../../wax/numbers/median.ts';
import { MILLIS_PER_HOUR, MILLIS_PER_MINUTE } from '../../../wax/units.ts';
import { type GrowingFalls, growingFalls, type WorkFall } from './growing-falls.ts';

/** Plain JSON; its first two numbers are advanced in place. */
export interface WorkFalls {
  /** Steepest part of the fall under way, and of the ten minutes under way, kelvins. */
  steepest: number;
  ofStretch: number;
  /** Natural logarithm of what ten minutes usually have, kelvins, and how many this rests on. */
  resting: number;
  learned: number;
  /** Falls that are no rest, oldest first. Replaced as a whole. */
  falls: readonly WorkFall[];
  /** When the last ten minutes closed: those of the newest falls that count, against the usual ones; null: too few. */
  judged: { readonly kelvins: number; readonly usual: number } | null;
  /** Whether those of one day grow; null: they did not. Replaced as a whole. */
  growing: GrowingFalls | null;
}

/** Time within which falls are compared: long against noise and the lag of a probe, short against a turn of work. */
export const FALL_MILLIS = 3 * MILLIS_PER_MINUTE;
const KEPT_FALLS = 40;
const FIRST_STRETCHES = 12;
/** The median of stretches is followed by steps of a fixed size: gain times the most that one counts, logarithm. */
const GAIN = 0.1;
const MOST_OFF = 0.2;
const LEAST_KELVINS = 0.02;
/** A fall this much steeper than those at rest is work; a thermostat's own falls are not. */
const WORK_RATIO = 1.7;
const WORK_LEAST = 0.3;
/** Older than this a fall is one of days before. */
const DAY_BEFORE_MILLIS = 10 * MILLIS_PER_HOUR;
const FEWEST_USUAL = 8;
const NEWEST = 7;
const NEWEST_MILLIS = 4 * MILLIS_PER_HOUR;
/** Nobody works there any more. */
const ENDED_MILLIS = MILLIS_PER_HOUR;
/** Times the usual: shorter ones are cut short, steeper ones are cold wax; a third of the wax makes no more. */
const CUT_SHORT = 0.5;
const COLD_WAX = 2.3;
/** Steps of a coarse probe. */
const LEAST_STEPS = 1.5;
/** Of the newest falls so many may be as usual. */
const AS_USUAL = 2;

export const startWorkFalls = (): WorkFalls => ({
  steepest: 0,
  ofStretch: 0,
  resting: 0,
  learned: 0,
  falls: [],
  judged: null,
  growing: null,
});

/** Takes in how far it fell within the last minutes, in kelvins. */
export function advanceFall(workFalls: WorkFalls, kelvins: number, isFalling: boolean): void {
  if (kelvins > workFalls.ofStretch) workFalls.ofStretch = kelvins;
  if (isFalling && kelvins > workFalls.steepest) workFalls.steepest = kelvins;
}

/** The fall under way is over. */
export function endFall(workFalls: WorkFalls, at: number, isAtWork: boolean): void {
  const { falls, learned, resting, steepest: kelvins } = workFalls;
  workFalls.steepest = 0;
  if (!isAtWork || learned < FIRST_STRETCHES) return;
  if (kelvins < Math.max(WORK_LEAST, WORK_RATIO * Math.exp(resting))) return;
  workFalls.falls = [...falls.slice(1 - KEPT_FALLS), { at, kelvins }];
}

/** Ten minutes are over. Falls that differ from the usual by a step of the probe or two do not. */
export function endStretch(workFalls: WorkFalls, at: number, isAtWork: boolean, stepKelvin: number): void {
  if (isAtWork) learnResting(workFalls);
  workFalls.ofStretch = 0;
  workFalls.judged = judge(workFalls.falls, at, LEAST_STEPS * stepKelvin);
  workFalls.growing = growingAt(workFalls, at, LEAST_STEPS * stepKelvin);
}

function growingAt({ falls, growing }: WorkFalls, at: number, least: number): GrowingFalls | null {
  if (at - (falls.at(-1)?.at ?? 0) <= ENDED_MILLIS) return growingFalls(growing, falls, least);
  // What grew stays so without work; what is over is forgotten.
  return growing !== null && growing.kelvins > growing.usual ? growing : null;
}

function learnResting(workFalls: WorkFalls): void {
  const off = Math.log(Math.max(LEAST_KELVINS, workFalls.ofStretch)) - workFalls.resting;
  workFalls.learned += 1;
  workFalls.resting +=
    workFalls.learned <= FIRST_STRETCHES
      ? off / workFalls.learned
      : GAIN * Math.min(MOST_OFF, Math.max(-MOST_OFF, off));
}

function judge(falls: readonly WorkFall[], at: number, least: number): WorkFalls['judged'] {
  if (at - (falls.at(-1)?.at ?? 0) > ENDED_MILLIS) return null;
  const before = falls.filter((fall) => at - fall.at > DAY_BEFORE_MILLIS).map(({ kelvins }) => kelvins);
  if (before.length < FEWEST_USUAL) return null;
  const usual = median(before);
  const newest = falls
    .filter((fall) => at - fall.at < NEWEST_MILLIS)
    .map(({ kelvins }) => kelvins)
    .filter((kelvins) => kelvins > CUT_SHORT * usual && kelvins < COLD_WAX * usual)
    .slice(-NEWEST);
  const kelvins = newest.length < NEWEST ? undefined : [...newest].sort((a, b) => a - b)[AS_USUAL];
  if (kelvins === undefined) return null;
  return { kelvins: kelvins - usual < least ? usual : kelvins, usual };
}
