// How old the wax in a pot is after repeated top-ups: a top-up mixes fresh wax in, it does not make old wax
// young. Assumes perfect mixing. Doses are equivalent hours (heat-dose.ts), counted on as if never topped up.

import type { EquivalentHours, Fraction } from './units.ts';

/** Wax that came in together: what share of the charge it still is, and how far the dose had run by then. */
export interface ChargeLayer {
  readonly share: Fraction;
  readonly enteredAt: EquivalentHours;
}

/** Oldest first; shares add up to 1; plain JSON. */
export type ChargeAges = readonly ChargeLayer[];

/** More layers than this are not kept; the two oldest, by then a trace, are put together at their mean. */
export const MOST_LAYERS = 64;

export const chargeAgesStart = (runningDose: EquivalentHours = 0 as EquivalentHours): ChargeAges => [
  { share: 1 as Fraction, enteredAt: runningDose },
];

const together = (older: ChargeLayer, newer: ChargeLayer): ChargeLayer => {
  const share = older.share + newer.share;
  const enteredAt =
    share > 0 ? (older.share * older.enteredAt + newer.share * newer.enteredAt) / share : newer.enteredAt;
  return { share: share as Fraction, enteredAt: enteredAt as EquivalentHours };
};

/**
 * Fresh wax took the place of `fraction` of the charge when the dose, never reset, had run to `runningDose`.
 * @throws RangeError for a fraction outside of 0 to 1.
 */
export const chargeAgesAfterTopUp = (
  ages: ChargeAges,
  runningDose: EquivalentHours,
  fraction: Fraction,
): ChargeAges => {
  if (!(fraction >= 0 && fraction <= 1)) {
    throw new RangeError(`chargeAgesAfterTopUp: the fraction ${fraction} is not from 0 to 1`);
  }
  const kept = ages
    .map(({ share, enteredAt }) => ({ share: (share * (1 - fraction)) as Fraction, enteredAt }))
    .concat({ share: fraction, enteredAt: runningDose })
    .filter(({ share }) => share > 0);
  const [first, second, ...rest] = kept;
  return kept.length > MOST_LAYERS && first && second ? [together(first, second), ...rest] : kept;
};

export interface ChargeAge {
  /** Mean over the charge. */
  readonly mean: EquivalentHours;
  /** Of the oldest wax in it. */
  readonly oldest: EquivalentHours;
  /** Share of the charge that is past the allowance. */
  readonly shareOverAllowance: Fraction;
}

export const chargeAge = (
  ages: ChargeAges,
  runningDose: EquivalentHours,
  allowance: EquivalentHours,
): ChargeAge => {
  let mean = 0;
  let oldest = 0;
  let over = 0;
  for (const { share, enteredAt } of ages) {
    const dose = runningDose - enteredAt;
    mean += share * dose;
    oldest = Math.max(oldest, dose);
    if (dose > allowance) over += share;
  }
  return {
    mean: mean as EquivalentHours,
    oldest: oldest as EquivalentHours,
    shareOverAllowance: Math.min(1, over) as Fraction,
  };
};

/**
 * The mean dose just before a top-up, when the same fraction is topped up again and again after the same dose.
 * @throws RangeError for a fraction that is not above 0 and at most 1, or a dose below 0.
 */
export const steadyMeanDose = (doseBetween: EquivalentHours, fraction: Fraction): EquivalentHours => {
  if (!(fraction > 0 && fraction <= 1 && doseBetween >= 0))
    throw new RangeError(`steadyMeanDose: ${doseBetween} h, fraction ${fraction}`);
  return (doseBetween / fraction) as EquivalentHours;
};
