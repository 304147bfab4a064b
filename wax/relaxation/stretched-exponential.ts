// Stretched exponential of Kohlrausch, Williams and Watts: what share of a frozen-in strain has been released
// after the time `ratio` (in units of the time constant). It fits dental polymers better than one exponential;
// no fit to dental wax is known.

import { isWithin } from '../reading-guard.ts';

/**
 * 1 - exp(-ratio^beta), for ratio from 0 and beta above 0 to 1; exact for small ratios too.
 * @throws RangeError for a ratio or beta outside of these
 */
export function releasedShare(ratio: number, beta: number): number {
  if (!(typeof ratio === 'number' && ratio >= 0 && isWithin(beta, Number.MIN_VALUE, 1)))
    throw new RangeError(`releasedShare: ${ratio} of a time constant, exponent ${beta}`);
  return -Math.expm1(-(ratio ** beta));
}
