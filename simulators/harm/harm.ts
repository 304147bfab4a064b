// What counts as harm, from true temperatures alone: what probes read of them plays no part.

import type { Episode } from './episodes.ts';

export type HarmKind =
  | 'over-ceiling'
  | 'not-ready'
  | 'under-set'
  | 'molten-after-hours'
  | 'bare'
  | 'not-molten'
  | 'uneven'
  | 'outside-window'
  | 'pattern-outside'
  | 'pattern-swing'
  | 'probe-wrong';

export interface Harm extends Episode {
  readonly station: string;
  readonly kind: HarmKind;
}
