// What the catalogues must hold: a message, a meaning and an action for every rule, and which caution goes with it.
// A rule or a caution without its words in both languages does not compile.

import type { RuleKind } from '../../watch/rule/rule-kind.ts';

/** `{name}` is a placeholder. `by` chooses among texts by a word of the evidence. */
export type Worded = string | { readonly by: string; readonly cases: Readonly<Record<string, string>> };

export interface RuleWords {
  /** What happened, for a wall and a lock screen. */
  readonly message: Worded;
  /** What the heat does to the wax, or what cannot be seen now. */
  readonly meaning: Worded;
  /** What to do; empty for a notice. */
  readonly action: Worded;
}

export type CautionKind = 'fire' | 'hot-wax' | 'unwatched' | 'none';

/** Cautions stand wherever hands go to a heater, and where heat may be unseen. */
export const CAUTION_OF: Readonly<Record<RuleKind, CautionKind>> = {
  'over-ceiling': 'hot-wax',
  'fire-risk': 'fire',
  'heading-over': 'hot-wax',
  runaway: 'hot-wax',
  'outside-window': 'hot-wax',
  'left-on': 'hot-wax',
  'no-heat': 'hot-wax',
  'low-pot': 'hot-wax',
  'thermostat-drift': 'hot-wax',
  'uneven-annealer': 'hot-wax',
  'soak-incomplete': 'none',
  'soak-ready': 'none',
  'wrong-bath': 'none',
  'heat-dose-half': 'none',
  'heat-dose-high': 'none',
  'charge-spent': 'hot-wax',
  'cleaning-due': 'hot-wax',
  'storage-swing': 'none',
  'storage-rate': 'none',
  'storage-warm': 'none',
  'door-open': 'none',
  'night-swing': 'none',
  'pattern-due': 'none',
  'pattern-warm': 'none',
  'pattern-weekend': 'none',
  'probe-silent': 'unwatched',
  'gateway-lost': 'unwatched',
  'probe-stuck': 'unwatched',
  'probe-noisy': 'none',
  'probe-jump': 'none',
  'probe-disagrees': 'none',
  'calibration-due': 'none',
  'gateway-clock': 'none',
  'store-failing': 'unwatched',
  'disk-failing': 'unwatched',
  'nobody-subscribed': 'unwatched',
  'channel-failing': 'unwatched',
};

export interface Catalogue {
  readonly rules: Readonly<Record<RuleKind, RuleWords>>;
  readonly cautions: Readonly<Record<CautionKind, string>>;
  /** Why an alarm is hidden, by what `suppressedBy` holds; `behind` takes the message's rule as {cause}. */
  readonly hidden: Readonly<Record<HiddenReason, string>>;
  /** Short name of each rule, for lists and settings. */
  readonly names: Readonly<Record<RuleKind, string>>;
  readonly units: { readonly minutes: string; readonly hours: string; readonly perHour: string };
  /** Put before what late readings revealed. */
  readonly learned: string;
}

export const HIDDEN_REASONS = ['warm-up', 'planned-off', 'cooling', 'behind'] as const;
export type HiddenReason = (typeof HIDDEN_REASONS)[number];
