// What people do that bears on rules and alarms. Every act holds who and, where it must, why.

import type { EpochMillis } from '../wax/units.ts';
import type { IntentKind } from './intent-kind.ts';
import type { Fate, LifeActKind } from './pattern.ts';

interface ActBase {
  /** Display name or id of the person; `the lab` for what a schedule does. */
  readonly by: string;
  readonly reason?: string;
}

export type AlarmAct = ActBase & {
  readonly alarm: string;
} /** `seenCount`: which raising the person saw, so that one sent late does not answer a newer one. */ & (
    | { readonly type: 'acknowledge'; readonly seenCount?: number }
    | { readonly type: 'reset' }
    | { readonly type: 'shelve'; readonly until: EpochMillis; readonly reason: string }
    | { readonly type: 'unshelve' }
    | { readonly type: 'take-out-of-service'; readonly reason: string }
    | { readonly type: 'return-to-service' }
    | { readonly type: 'note'; readonly text: string }
  );

interface ChargeAct {
  /** By which it can be taken back. */
  readonly id?: string;
  /** When it was done, for what is entered later; absent: when it is entered. */
  readonly at?: EpochMillis;
}

export type StationAct = ActBase & { readonly station: string } & (
    | (ChargeAct & { readonly type: 'charge-changed'; readonly wax: string; readonly grams: number })
    /** `fraction` of the charge replaced by fresh wax, 0 to 1. */
    | (ChargeAct & { readonly type: 'topped-up'; readonly fraction: number })
    /** The newest change or top-up was entered by mistake: the wax before it was in the pot all the while. */
    | { readonly type: 'charge-taken-back'; readonly id: string }
    | { readonly type: 'cleaned' }
    | { readonly type: 'planned-off' }
    | { readonly type: 'planned-on' }
    | { readonly type: 'load-in'; readonly load: string }
    | { readonly type: 'load-out' }
    /** What is meant to be for a while; a newer one of the same kind takes its place. */
    | { readonly type: 'intent'; readonly kind: IntentKind; readonly until: EpochMillis }
    | { readonly type: 'intent-ended'; readonly kind: IntentKind }
  );

export type PatternAct = ActBase & { readonly pattern: string } & (
    | { readonly type: 'pattern-made'; readonly station: string }
    | { readonly type: 'pattern-moved'; readonly station: string }
    | { readonly type: 'pattern-ended'; readonly fate: Fate; readonly reason: string }
    /** What was done to it at the bench; the record of the pattern holds the rest. */
    | {
        readonly type: 'pattern-act';
        readonly kind: LifeActKind;
        readonly id: string;
        readonly at: EpochMillis;
      }
    | { readonly type: 'pattern-act-undone'; readonly kind: LifeActKind; readonly id: string }
    | { readonly type: 'pattern-case-erased' }
    /** What it is invested in and cast from was recorded or corrected. */
    | { readonly type: 'pattern-casting' }
    /** It was ended by mistake and waits again. */
    | { readonly type: 'pattern-resumed'; readonly reason: string }
  );

/** Probes without a station that are to be seen no more, until they send again. */
export type ProbeAct = ActBase & { readonly type: 'probes-forgotten'; readonly probes: readonly string[] };

export type Act = AlarmAct | StationAct | PatternAct | ProbeAct;
