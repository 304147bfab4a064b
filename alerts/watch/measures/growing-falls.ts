// Whether the falls of a pot at work grow along a line within one day: the same ladle or piece takes its heat from less and
// less wax. It needs no rhythm and no days that are known. Heavier work and cold wax make falls steeper too, but at once:
// then most of the growth lies between two of them.

import { median } from '../../../wax/numbers/median.ts';
import { MILLIS_PER_HOUR } from '../../../wax/units.ts';
import { rankOrder } from './rank-order.ts';

export interface WorkFall {
  readonly at: number;
  /** Steepest part of it: kelvins within some minutes. */
  readonly kelvins: number;
}

/** What they are of late and what they were before they grew, kelvins; the same where they grew and are as before again. */
export interface GrowingFalls {
  readonly kelvins: number;
  readonly usual: number;
}

const FALLS = 8;
/** The first and last ones of them are compared. */
const COMPARED = 3;
/** From the first to the last of them; with a night between it is no line. */
const LONGEST_MILLIS = 5 * MILLIS_PER_HOUR;
/** A quarter of what pot and wax take up is gone then. Simulated days use less of it; no publication. */
export const GROWN = 1.3;
/** Share of the pairs of falls, and of the growth that may lie between two neighbours by size. */
const ORDER = 0.65;
const MOST_AT_ONCE = 0.55;
/** Share of the growth down to which a pot holds as little as before. */
const STILL_SHARE = 0.5;

/**
 * Looks at the newest falls.
 * @param falls oldest first
 * @param growing what this gave before: grown falls stay so until the newest are as before
 * @param least kelvins by which they must differ
 */
export function growingFalls(
  growing: GrowingFalls | null,
  falls: readonly WorkFall[],
  least: number,
): GrowingFalls | null {
  const newest = falls.slice(-FALLS).map(({ kelvins }) => kelvins);
  const kelvins = median(newest.slice(-COMPARED));
  if (growing !== null && growing.kelvins > growing.usual) {
    const { usual } = growing;
    return { kelvins: kelvins > usual * (1 + STILL_SHARE * (GROWN - 1)) ? kelvins : usual, usual };
  }
  const usual = median(newest.slice(0, COMPARED));
  const lasted = (falls.at(-1)?.at ?? 0) - (falls.at(-FALLS)?.at ?? 0);
  const isLine =
    newest.length === FALLS &&
    lasted < LONGEST_MILLIS &&
    kelvins > GROWN * usual &&
    kelvins - usual >= least &&
    rankOrder(newest) >= ORDER &&
    mostAtOnce(newest) < MOST_AT_ONCE * Math.log(kelvins / usual);
  return isLine ? { kelvins, usual } : growing;
}

/** Greatest logarithm of the ratio of two neighbours by size. */
function mostAtOnce(values: readonly number[]): number {
  const sorted = values.toSorted((first, second) => first - second);
  return Math.max(...sorted.slice(1).map((value, index) => Math.log(value / (sorted[index] ?? value))));
}
