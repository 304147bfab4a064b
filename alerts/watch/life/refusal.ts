// What the standard does not let a person do to an alarm, with the code of the reason.
// Reset before acknowledgement or while the condition holds is refused; shelving needs a reason and an end.

import type { Problem } from '../../../wax/result.ts';
import { type EpochMillis, MILLIS_PER_HOUR } from '../../../wax/units.ts';
import type { Alarm } from './alarm.ts';
import { alarmStateCode, isHidden } from './alarm-state.ts';

/** Why a person's act was not taken. */
export type Refusal = Pick<Problem, 'code' | 'values'>;

/** Common practice: one shift, so that whoever comes next sees it. */
const LONGEST_SHELVING_HOURS = 8;

const hidden: Refusal = { code: 'alarm-hidden' };

export function ackRefusal(alarm: Alarm, seenCount: number = alarm.count): Refusal | null {
  if (isHidden(alarm)) return hidden;
  if (seenCount !== alarm.count) return { code: 'raised-again-since' };
  if (!alarm.acknowledged) return null;
  return { code: 'already-acknowledged' };
}

export function resetRefusal(alarm: Alarm): Refusal | null {
  switch (alarmStateCode(alarm)) {
    case 'F':
      return null;
    case 'B':
    case 'C':
      return { code: 'reset-while-active' };
    case 'D':
    case 'E':
      return { code: 'reset-before-acknowledgement' };
    case 'A':
      return { code: 'nothing-to-reset' };
    case 'G':
    case 'H':
    case 'I':
      return hidden;
  }
}

export function shelveRefusal(
  alarm: Alarm,
  at: EpochMillis,
  until: EpochMillis,
  reason: string,
): Refusal | null {
  if (reason === '') return { code: 'reason-missing' };
  if (alarm.shelvedUntil !== null) return { code: 'already-shelved' };
  if (!(until > at)) return { code: 'shelve-end-missing' };
  if (until - at > LONGEST_SHELVING_HOURS * MILLIS_PER_HOUR)
    return { code: 'shelve-too-long', values: { hours: LONGEST_SHELVING_HOURS } };
  return null;
}
