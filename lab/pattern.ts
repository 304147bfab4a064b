// One wax pattern of a case, from the bench to the investment ring.

import { TECHNIQUES, type Technique } from '../wax/classes/technique.ts';
import type { WaxClassId } from '../wax/classes/wax-class-id.ts';

export { TECHNIQUES, type Technique };

/** A stay at one storage place. */
export interface PatternStay {
  readonly station: string;
  readonly from: string;
  readonly to: string | null;
}

export const FATES = ['invested', 'remade', 'discarded'] as const;
export type Fate = (typeof FATES)[number];

export interface Pattern {
  /** Short id printed on the label. */
  readonly id: string;
  readonly caseReference: string;
  readonly wax: WaxClassId;
  readonly technique: Technique;
  /** The length that matters for the fit. */
  readonly length_millimetres: number;
  readonly tolerance_micrometres: number;
  readonly madeAt: string;
  readonly madeBy: string;
  readonly stays: readonly PatternStay[];
  readonly fate: null | {
    readonly kind: Fate;
    readonly at: string;
    readonly by: string;
    readonly reason: string;
  };
}
