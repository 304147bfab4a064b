// The one-letter state of the standard's table, derived from the orthogonal facts of an alarm.
// Facts: IEC 62682 / ISA-18.2 as orthogonal flags, after OPC UA Part 9 (IEC 62541-9) 4.8. The order in which the
// three hidden states win over each other is our choice: out of service, then suppressed, then shelved.

import type { Alarm, AlarmStateCode } from './alarm.ts';

type Facts = Pick<
  Alarm,
  'active' | 'acknowledged' | 'latched' | 'shelvedUntil' | 'suppressedBy' | 'outOfService'
>;

/** Shelved, suppressed or out of service: evaluated and recorded, but nobody is notified. */
export const isHidden = (alarm: Facts): boolean =>
  alarm.outOfService || alarm.suppressedBy !== null || alarm.shelvedUntil !== null;

export function alarmStateCode(alarm: Facts): AlarmStateCode {
  if (alarm.outOfService) return 'I';
  if (alarm.suppressedBy !== null) return 'H';
  if (alarm.shelvedUntil !== null) return 'G';
  if (alarm.active) return alarm.acknowledged ? 'C' : 'B';
  if (alarm.latched) return alarm.acknowledged ? 'F' : 'E';
  return alarm.acknowledged ? 'A' : 'D';
}

/** The state as a key of the message catalogues. */
export const ALARM_STATE_WORDS = {
  A: 'normal',
  B: 'unacknowledged',
  C: 'acknowledged',
  D: 'returned',
  E: 'latched',
  F: 'waits-for-reset',
  G: 'shelved',
  H: 'suppressed',
  I: 'out-of-service',
} as const satisfies Record<AlarmStateCode, string>;
