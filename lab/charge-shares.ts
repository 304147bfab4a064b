// What a charge consists of at one instant: the wax of its filling and of each top-up, with its share. A top-up that
// replaces the fraction f leaves 1 - f of every wax before it; exact for any number of top-ups. Pure.

import { type EpochMillis, MILLIS_PER_DAY } from '../wax/units.ts';
import type { Charge } from './charge.ts';

export interface WaxShare {
  /** When it came into the pot. */
  readonly addedAt: EpochMillis;
  /** Id of its lot; null: not recorded. */
  readonly lot: string | null;
  /** 0 to 1; all of them sum to 1. */
  readonly share: number;
}

/** Oldest first; what is added later than `at` is not seen. */
export function waxShares(charge: Charge, at = Number.POSITIVE_INFINITY): readonly WaxShare[] {
  const filled: WaxShare = {
    addedAt: Date.parse(charge.startedAt) as EpochMillis,
    lot: charge.lot ?? null,
    share: 1,
  };
  return charge.topUps
    .map((topUp) => ({ ...topUp, addedAt: Date.parse(topUp.at) as EpochMillis }))
    .filter(({ addedAt }) => addedAt <= at)
    .sort((earlier, later) => earlier.addedAt - later.addedAt)
    .reduce<readonly WaxShare[]>(
      (shares, { addedAt, fraction, lot }) => [
        ...shares.map((wax) => ({ ...wax, share: wax.share * (1 - fraction) })),
        { addedAt, lot: lot ?? null, share: fraction },
      ],
      [filled],
    )
    .filter(({ share }) => share > 0);
}

export interface LotShare {
  /** Null: wax whose lot was not recorded. */
  readonly lot: string | null;
  readonly share: number;
}

/** Greatest share first; as it is now, or was at an instant. */
export function lotShares(charge: Charge, at = Number.POSITIVE_INFINITY): readonly LotShare[] {
  const sums = new Map<string | null, number>();
  for (const { lot, share } of waxShares(charge, at)) sums.set(lot, (sums.get(lot) ?? 0) + share);
  return [...sums].map(([lot, share]) => ({ lot, share })).sort((left, right) => right.share - left.share);
}

export interface AgeShare {
  /** Days since it came into the pot: from here up to the next group. */
  readonly fromDays: number;
  readonly share: number;
}

/** Wax of like age is one group: today's, this week's, this month's, this quarter's, older. */
const AGE_GROUPS_DAYS = [90, 30, 7, 1, 0] as const;

/**
 * Shares by age, oldest group first; groups without wax are left out. Sums are taken over the exact shares, so that
 * many small top-ups lose nothing of the oldest wax.
 */
export function ageShares(charge: Charge, at: EpochMillis): readonly AgeShare[] {
  const shares = waxShares(charge, at);
  const groupOf = (addedAt: number): number =>
    AGE_GROUPS_DAYS.find((days) => at - addedAt >= days * MILLIS_PER_DAY) ?? 0;
  return AGE_GROUPS_DAYS.map((fromDays) => ({
    fromDays,
    share: shares
      .filter(({ addedAt }) => groupOf(addedAt) === fromDays)
      .reduce((sum, { share }) => sum + share, 0),
  })).filter(({ share }) => share > 0);
}
