// Which patterns and which pots hold the wax of a lot: straight from the pack, or through the charge that a pattern was
// made from as the charge was then. What was filled in or added later is not in the pattern. Pure.

import type { Charge } from '../charge.ts';
import { lotShares } from '../charge-shares.ts';
import type { Pattern } from '../pattern.ts';
import type { WaxLot } from '../wax-lot.ts';

export interface RecalledPattern {
  readonly pattern: Pattern;
  /** Id of the lot. */
  readonly lot: string;
  /** Of its wax, 0 to 1. */
  readonly share: number;
}

export interface RecalledCharge {
  readonly charge: Charge;
  readonly lot: string;
  /** Of the charge at its end, or now. */
  readonly share: number;
}

export interface Recall {
  readonly lots: readonly WaxLot[];
  /** Waiting ones first, then the newest. */
  readonly patterns: readonly RecalledPattern[];
  /** Those in pots first, then the newest. */
  readonly charges: readonly RecalledCharge[];
}

const foldText = (text: string): string => text.toLocaleLowerCase('en').replace(/[^\p{L}\p{N}]+/gu, '');

/**
 * Lots that a text names by maker or lot number; case, spaces and hyphens do not matter.
 * @example lotsNamed(lots, 'x 1204') // finds the lot `X-12045`
 */
export function lotsNamed<T extends Pick<WaxLot, 'maker' | 'lot'>>(
  lots: readonly T[],
  text: string,
): readonly T[] {
  const words = text
    .split(/\s+/)
    .map(foldText)
    .filter((word) => word !== '');
  if (words.length === 0) return [];
  return lots.filter(({ maker, lot }) => {
    const named = foldText(maker + lot);
    return named.includes(foldText(text)) || words.every((word) => named.includes(word));
  });
}

/** Lots in the wax of a pattern with their shares. */
export function patternLots(
  { lot, charge: id, madeAt }: Pattern,
  charges: ReadonlyMap<string, Charge>,
): readonly { readonly lot: string; readonly share: number }[] {
  const charge = id === undefined ? undefined : charges.get(id);
  if (charge === undefined) return lot === undefined ? [] : [{ lot, share: 1 }];
  return lotShares(charge, Date.parse(madeAt)).flatMap((part) =>
    part.lot === null ? [] : [{ lot: part.lot, share: part.share }],
  );
}

const openFirst = (left: string | null, right: string | null): number =>
  Number(left !== null) - Number(right !== null);

/** Everything that holds wax of these lots. */
export function recall(
  lots: readonly WaxLot[],
  allCharges: readonly Charge[],
  allPatterns: readonly Pattern[],
): Recall {
  const ids = new Set(lots.map(({ id }) => id));
  const byId = new Map(allCharges.map((charge) => [charge.id, charge]));
  const isAsked = ({ lot }: { readonly lot: string | null }): boolean => lot !== null && ids.has(lot);
  return {
    lots,
    patterns: allPatterns
      .flatMap((pattern) =>
        patternLots(pattern, byId)
          .filter(isAsked)
          .map(({ lot, share }) => ({ pattern, lot, share })),
      )
      .sort(
        (left, right) =>
          openFirst(left.pattern.fate?.at ?? null, right.pattern.fate?.at ?? null) ||
          Date.parse(right.pattern.madeAt) - Date.parse(left.pattern.madeAt),
      ),
    charges: allCharges
      .filter(({ takenBack }) => takenBack === undefined)
      .flatMap((charge) =>
        lotShares(charge).flatMap(({ lot, share }) =>
          lot !== null && ids.has(lot) ? [{ charge, lot, share }] : [],
        ),
      )
      .sort(
        (left, right) =>
          openFirst(left.charge.endedAt, right.charge.endedAt) ||
          Date.parse(right.charge.startedAt) - Date.parse(left.charge.startedAt),
      ),
  };
}
