// How far something went on each day at work, so that one day can be held against those before it. Work reaches about as
// far on one day as on the next; what goes well beyond the furthest of some days is no work.

import { MILLIS_PER_HOUR } from '../../../wax/units.ts';

/** Plain JSON, replaced as a whole. */
export interface FurthestOfDays {
  /** Since when today counts; values of today, and the furthest of them. */
  readonly since: number;
  readonly counted: number;
  readonly today: number;
  /** Days before it that are over, and the furthest of them, fading slowly. */
  readonly days: number;
  readonly before: number;
}

/** A night lies between two days; one with fewer values, or at which nobody was seen at work, is no measure of work. */
const DAY_MILLIS = 16 * MILLIS_PER_HOUR;
const FEWEST_A_DAY = 6;
const DAY_FADE = 0.95;

export const startFurthest = (at: number): FurthestOfDays => ({
  since: at,
  counted: 0,
  today: 0,
  days: 0,
  before: 0,
});

const FEWEST_DAYS = 2;
const TIMES_BEFORE = 1.5;

/**
 * @param value how far it went, 0 or less for not at all
 * @param most beyond work that it counts for: what is no work teaches little, and what stays is work after some days
 * @param workedAt when somebody was last at work there
 */
export function furthestStep(
  furthest: FurthestOfDays,
  at: number,
  value: number,
  most: number,
  workedAt: number,
): FurthestOfDays {
  const { before, counted, days, since } = furthest;
  const far = days < FEWEST_DAYS ? value : Math.min(value, TIMES_BEFORE * before + most);
  const today = Math.max(furthest.today, far);
  if (at - since < DAY_MILLIS) return { ...furthest, counted: counted + 1, today };
  const isDay = counted >= FEWEST_A_DAY && workedAt >= since;
  return {
    since: at,
    counted: 1,
    today: Math.max(0, far),
    days: days + (isDay ? 1 : 0),
    before: isDay ? Math.max(DAY_FADE * before, furthest.today) : before,
  };
}

/** How far work reaches at most; null until two days are known. */
export const workReach = ({ before, days }: FurthestOfDays): number | null =>
  days < FEWEST_DAYS ? null : TIMES_BEFORE * before;
