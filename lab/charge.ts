// The wax now in a pot: which, how much, since when, topped up how often. Its heat dose is computed, not kept here.

import type { WaxClassId } from '../wax/wax-class-id.ts';

export interface TopUp {
  /** ISO 8601. */
  readonly at: string;
  /** Share of the charge that is fresh wax after the top-up, 0 to 1. */
  readonly fraction: number;
  readonly by: string;
}

export interface Charge {
  readonly id: string;
  readonly station: string;
  readonly wax: WaxClassId;
  readonly grams: number;
  readonly startedAt: string;
  readonly topUps: readonly TopUp[];
  readonly cleanedAt: string | null;
  readonly endedAt: string | null;
}
