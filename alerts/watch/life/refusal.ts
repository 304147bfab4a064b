// What the standard does not let a person do to an alarm, with the reason in words that say what to do instead.
// Reset before acknowledgement or while the condition holds is refused; shelving needs a reason and an end.

import { type EpochMillis, MILLIS_PER_HOUR } from '../../../wax/units.ts';
import type { Alarm } from './alarm.ts';
import { alarmStateCode, isHidden } from './alarm-state.ts';

export interface Refusal {
  /** Listed in docs/errors.md. */
  readonly code: string;
  readonly message: string;
}

/** Common practice: one shift, so that whoever comes next sees it. */
const LONGEST_SHELVING_HOURS = 8;

const hidden: Refusal = {
  code: 'alarm-hidden',
  message:
    'The alarm is shelved, suppressed or out of service, so nothing is asked of you. Bring it back first.',
};

export function ackRefusal(alarm: Alarm, seenCount: number = alarm.count): Refusal | null {
  if (isHidden(alarm)) return hidden;
  if (seenCount !== alarm.count)
    return {
      code: 'raised-again-since',
      message: 'The alarm was raised again after this was seen. Look at it, then acknowledge it.',
    };
  if (!alarm.acknowledged) return null;
  return {
    code: 'already-acknowledged',
    message: 'There is nothing to acknowledge: somebody has, or it is over.',
  };
}

export function resetRefusal(alarm: Alarm): Refusal | null {
  switch (alarmStateCode(alarm)) {
    case 'F':
      return null;
    case 'B':
    case 'C':
      return {
        code: 'reset-while-active',
        message: 'The condition still holds. See to it; the alarm can be reset when it is over.',
      };
    case 'D':
    case 'E':
      return {
        code: 'reset-before-acknowledgement',
        message: 'Acknowledge the alarm first, so that it is on record who has seen it.',
      };
    case 'A':
      return { code: 'nothing-to-reset', message: 'The alarm is normal; there is nothing to reset.' };
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
  if (reason === '')
    return {
      code: 'reason-missing',
      message: 'Say why the alarm is shelved; the reason is kept in its history.',
    };
  if (alarm.shelvedUntil !== null)
    return {
      code: 'already-shelved',
      message: 'The alarm is shelved already. Bring it back to shelve it anew.',
    };
  if (!(until > at))
    return { code: 'shelve-end-missing', message: 'Say until when; the end must lie in the future.' };
  if (until - at > LONGEST_SHELVING_HOURS * MILLIS_PER_HOUR)
    return {
      code: 'shelve-too-long',
      message: `An alarm may be shelved for at most ${LONGEST_SHELVING_HOURS} hours. Choose an earlier end.`,
    };
  return null;
}
