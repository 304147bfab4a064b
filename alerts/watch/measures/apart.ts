// How far a probe stands from the others of its place. Layers of air keep them apart by about the same all day, and by more
// while the place gets warmer or colder, because one of them follows sooner; where that changes and stays, one of them is
// wrong, long before both uncertainties are used up.

import { MILLIS_PER_MINUTE } from '../../../wax/units.ts';

/** Plain JSON, advanced in place: kelvins above the mean of the others, instants in epoch milliseconds. */
export interface Apart {
  at: number;
  /** Of the last minutes; and what the others showed in them, and in the last hours, °C. */
  lately: number;
  level: number;
  slowLevel: number;
  /** The others are further from their last minutes than where layers of air keep. */
  isMoving: boolean;
  usual: number;
  /** Mean square of how far the others have moved within hours, and mean product with how far apart it stands then. */
  movedSquare: number;
  movedApart: number;
  /** How far it usually is from where it should stand. */
  stir: number;
  /** When the usual one was last advanced, and how many times. */
  learnedAt: number;
  learned: number;
}

/** A door that is opened parts them for some minutes. */
const LATELY_MILLIS = 10 * MILLIS_PER_MINUTE;
/** What waits there follows the air within hours. */
const SLOW_MILLIS = 120 * MILLIS_PER_MINUTE;
const LEARNING_MILLIS = 10 * MILLIS_PER_MINUTE;
/** A mean of all at first; later it follows a season, not a drift of days. */
const LEAST_GAIN = 1 / 432;
/** Half a day, with a night or a day at work. */
const FEWEST_LEARNED = 72;
/** Kelvins; while the place itself moves further from its last minutes, as when it is aired, its layers part. */
const MOST_MOVING = 0.3;
/** K²; where a place hardly moved, how its probes follow is chance. */
const LEAST_MOVED_SQUARE = 0.02;
/** Work, doors and sun part them further than on average. */
const STIRS = 4;

export const startApart = (at: number, kelvins: number, level: number): Apart => ({
  at,
  lately: kelvins,
  level,
  slowLevel: level,
  isMoving: true,
  usual: kelvins,
  movedSquare: 0,
  movedApart: 0,
  stir: 0,
  learnedAt: at,
  learned: 0,
});

const moveOf = ({ level, slowLevel }: Apart): number => level - slowLevel;

/** Kelvins further from the others than it should stand, going by how far it usually does and how the place moves. */
function shiftOf(apart: Apart): number {
  const { lately, movedApart, movedSquare, usual } = apart;
  return lately - usual - (moveOf(apart) * movedApart) / (movedSquare + LEAST_MOVED_SQUARE);
}

/** Kelvins further than usual from the others, with its sign, where that is more than what is usual; 0 else. */
export function apartBy(apart: Apart, limit: number): number {
  if (apart.learned < FEWEST_LEARNED || apart.isMoving) return 0;
  const shift = shiftOf(apart);
  return Math.abs(shift) <= Math.max(limit, STIRS * apart.stir) ? 0 : shift;
}

/**
 * @param level what the others show, °C
 * @param isLearning not while one of them is doubted
 */
export function advanceApart(
  apart: Apart,
  at: number,
  kelvins: number,
  level: number,
  isLearning: boolean,
): void {
  const keep = Math.exp(-(at - apart.at) / LATELY_MILLIS);
  const keepSlow = Math.exp(-(at - apart.at) / SLOW_MILLIS);
  apart.lately = kelvins + keep * (apart.lately - kelvins);
  apart.level = level + keep * (apart.level - level);
  apart.slowLevel = level + keepSlow * (apart.slowLevel - level);
  apart.isMoving = Math.abs(level - apart.level) > MOST_MOVING;
  apart.at = at;
  if (!isLearning || at - apart.learnedAt < LEARNING_MILLIS) return;
  apart.learnedAt = at;
  apart.learned += 1;
  const gain = Math.max(LEAST_GAIN, 1 / apart.learned);
  const [moved, shift] = [moveOf(apart), shiftOf(apart)];
  apart.movedApart += gain * (moved * (apart.lately - apart.usual) - apart.movedApart);
  apart.movedSquare += gain * (moved * moved - apart.movedSquare);
  apart.usual += gain * shift;
  apart.stir += gain * (Math.abs(shift) - apart.stir);
}
