// An alarm: a finding that a person must act on, with the life of IEC 62682 / ISA-18.2.
// State is kept as orthogonal facts; the one-letter code is derived and never stored as truth.

import type { EpochMillis } from '../../../wax/units.ts';
import type { Evidence, SubjectKind } from '../rule/finding.ts';
import type { Priority } from '../rule/priority.ts';
import type { RuleKind } from '../rules/all-rules.ts';

/** A normal, B unacknowledged, C acknowledged, D returned unacknowledged, E latched unacknowledged,
 * F latched acknowledged, G shelved, H suppressed by design, I out of service. */
export type AlarmStateCode = 'A' | 'B' | 'C' | 'D' | 'E' | 'F' | 'G' | 'H' | 'I';

export interface Alarm {
  /** `{subject}.{rule}.{raisedAt}`: the same input gives the same id. */
  readonly id: string;
  readonly rule: RuleKind;
  readonly subject: string;
  readonly subjectKind: SubjectKind;
  readonly priority: Priority;
  readonly active: boolean;
  readonly acknowledged: boolean;
  /** The rule latches: what was seen must be seen by a person and reset, though it is over. */
  readonly latches: boolean;
  readonly latched: boolean;
  readonly shelvedUntil: EpochMillis | null;
  /** Why the logic hides it; null when it does not. */
  readonly suppressedBy: string | null;
  readonly outOfService: boolean;
  /** How often the condition came true in this record. */
  readonly count: number;
  readonly tense: 'now' | 'learned';
  readonly raisedAt: EpochMillis;
  readonly clearedAt: EpochMillis | null;
  readonly acknowledgedAt: EpochMillis | null;
  readonly acknowledgedBy: string | null;
  readonly evidence: Evidence;
}

export const ALARM_CHANGE_KINDS = [
  'raised',
  'raised-again',
  'updated',
  'cleared',
  'acknowledged',
  'reset',
  'shelved',
  'unshelved',
  'suppressed',
  'unsuppressed',
  'out-of-service',
  'returned-to-service',
  'noted',
  /** It was so once, from `raisedAt` to `clearedAt`, and was over before anybody could know: never an open alarm. */
  'learned',
] as const;
export type AlarmChangeKind = (typeof ALARM_CHANGE_KINDS)[number];

/** One line of an alarm's history: kept for ever, with who and when. */
export interface AlarmChange {
  readonly kind: AlarmChangeKind;
  readonly at: EpochMillis;
  readonly by: string | null;
  readonly reason: string | null;
  /** The alarm after the change. */
  readonly alarm: Alarm;
}
