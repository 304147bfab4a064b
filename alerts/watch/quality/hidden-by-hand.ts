// What people shelved or took out of service, who and why. The acts refuse to do so without a name and a reason; the
// count of those without is the proof that it holds.

import type { EpochMillis } from '../../../wax/units.ts';
import type { AlarmChange } from '../life/alarm.ts';
import type { RuleKind } from '../rules/all-rules.ts';

export interface HiddenByHand {
  readonly at: EpochMillis;
  readonly kind: 'shelved' | 'out-of-service';
  readonly rule: RuleKind;
  readonly subject: string;
  readonly by: string | null;
  readonly reason: string | null;
}

export function findHiddenByHand(
  changes: readonly AlarmChange[],
  from: EpochMillis,
  to: EpochMillis,
): readonly HiddenByHand[] {
  return changes.flatMap(({ alarm, at, by, kind, reason }) =>
    at >= from && at < to && (kind === 'shelved' || kind === 'out-of-service')
      ? [{ at, kind, rule: alarm.rule, subject: alarm.subject, by, reason }]
      : [],
  );
}

const isBlank = (text: string | null): boolean => text === null || text.trim() === '';

export const unauthorisedChanges = (
  changes: readonly AlarmChange[],
  from: EpochMillis,
  to: EpochMillis,
): number =>
  findHiddenByHand(changes, from, to).filter(({ by, reason }) => isBlank(by) || isBlank(reason)).length;
