// The wax now in a pot: which, how much, since when, topped up how often. Its heat dose is computed, not kept here.

import type { WaxClassId } from '../wax/classes/wax-class-id.ts';

/** A change or a top-up can be taken back for so long, by when it was done. */
export const TAKE_BACK_HOURS = 24;
/** What was done without a network is taken for so long. */
export const OLDEST_ACT_HOURS = 24;

export interface TopUp {
  /** Absent in old records, which cannot be taken back. */
  readonly id?: string;
  /** ISO 8601. */
  readonly at: string;
  /** Share of the charge that is fresh wax after the top-up, 0 to 1. */
  readonly fraction: number;
  readonly by: string;
  /** Id of the lot of the fresh wax. */
  readonly lot?: string;
}

export interface Charge {
  readonly id: string;
  readonly station: string;
  readonly wax: WaxClassId;
  /** Id of the lot that it was filled with. */
  readonly lot?: string;
  readonly grams: number;
  readonly startedAt: string;
  readonly topUps: readonly TopUp[];
  readonly cleanedAt: string | null;
  readonly endedAt: string | null;
  /** It was entered by mistake and never in the pot; it ended then. */
  readonly takenBack?: { readonly by: string; readonly reason: string };
}
