// One wax pattern of a case, from forming to the seated restoration, with what people did to it.

import type { PredictedFit } from './predicted-fit.ts';
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

/** A denture set-up: teeth in wax on an articulator, where the tooth moves and no die holds it. */
export const PATTERN_KINDS = ['pattern', 'denture-set-up'] as const;
export type PatternKind = (typeof PATTERN_KINDS)[number];

/** Where its shape comes from; `direct` is formed in the mouth. */
export const ORIGINS = ['direct', 'pot', 'dip', 'sheet', 'milled', 'printed', 'ready-made'] as const;
export type Origin = (typeof ORIGINS)[number];

/** What softened its wax before it was formed. */
export const SOFTENINGS = ['bath', 'flame', 'infrared', 'dry-heat', 'pot'] as const;
export type Softening = (typeof SOFTENINGS)[number];

export interface Forming {
  readonly origin?: Origin;
  readonly softening?: Softening;
  /** Of the wax when it was formed. */
  readonly celsius?: number;
}

/** Before it is invested, in the order in which a bench does them. */
export const ACTS_BEFORE_INVESTING = [
  'seated-on-die',
  'off-die',
  'margins-resealed',
  'chilled',
  'back-at-room-temperature',
  'sent-for-try-in',
  'returned',
  'formed',
  'sprued',
  'seated',
] as const;
/** What becomes of its mould and casting. */
export const ACTS_AFTER_INVESTING = ['burned-out', 'cast', 'processed', 'seated'] as const;
export const LIFE_ACTS = [...new Set([...ACTS_BEFORE_INVESTING, ...ACTS_AFTER_INVESTING])] as const;
export type LifeActKind = (typeof ACTS_BEFORE_INVESTING)[number] | (typeof ACTS_AFTER_INVESTING)[number];

/** One act at one instant of a pattern's life. */
export interface LifeAct extends Forming {
  /** By which it can be undone. */
  readonly id: string;
  readonly kind: LifeActKind;
  readonly at: string;
  readonly recordedAt: string;
  readonly by: string;
  /** Of `seated`: what was measured; 0 for a pass without a measure. */
  readonly gap_micrometres?: number;
  /** Of `seated` before it was invested: what was predicted then. */
  readonly predicted?: PredictedFit;
}

/** One step of the programme by which a mould is burned out. */
export interface BurnoutProgrammeStep {
  readonly hold_celsius: number;
  readonly hold_minutes: number;
  /** No faster than the maker's programme allows on the way to it. */
  readonly ramp_celsius_per_hour?: number;
}

/** What a pattern is invested in and cast from, as it was handed over. Ids are those of the tables or of the lab's own. */
export interface Casting {
  readonly alloy?: string;
  readonly investment?: string;
  readonly powder_lot?: string;
  readonly liquid_lot?: string;
  readonly powder_grams?: number;
  readonly liquid_millilitres?: number;
  /** Of the liquid, the rest is water. */
  readonly concentrate_percent?: number;
  /** Size, or without a ring, as the lab calls it. */
  readonly ring?: string;
  /** From the end of mixing until the ring goes on. */
  readonly set_minutes?: number;
  /** Id of the furnace station. */
  readonly furnace?: string;
  /** Steps of the maker's programme before its soak, in their order. */
  readonly steps_before?: readonly BurnoutProgrammeStep[];
  /** By the maker of the investment: at least so warm for so long without a break. */
  readonly hold_celsius?: number;
  readonly hold_minutes?: number;
  /** No faster than the maker's programme allows. */
  readonly ramp_celsius_per_hour?: number;
}

export interface Pattern {
  /** Short id printed on the label. */
  readonly id: string;
  /** Empty where it was erased. */
  readonly caseReference: string;
  /** Absent: a pattern. */
  readonly kind?: PatternKind;
  readonly wax: WaxClassId;
  /** Id of the charge that its wax came from; absent: from no pot, or not recorded. */
  readonly charge?: string;
  /** Id of the lot, where its wax came straight from the pack. */
  readonly lot?: string;
  /** Heat dose of that charge over its allowance when it was made. */
  readonly charge_dose_share?: number;
  readonly technique: Technique;
  readonly forming?: Forming;
  /** The length that matters for the fit. */
  readonly length_millimetres: number;
  readonly tolerance_micrometres: number;
  readonly madeAt: string;
  readonly madeBy: string;
  /** It was made on its die and left there. Absent: it was taken off at once. */
  readonly isMadeOnDie?: boolean;
  readonly casting?: Casting;
  /** What was predicted when it was invested. */
  readonly predictedAtInvesting?: PredictedFit;
  readonly stays: readonly PatternStay[];
  /** Oldest first, by when they were done. */
  readonly acts?: readonly LifeAct[];
  readonly fate: null | {
    readonly kind: Fate;
    readonly at: string;
    readonly by: string;
    readonly reason: string;
  };
}
