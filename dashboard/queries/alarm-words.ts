// An alarm in the words of its reader.

import type { Alarm } from '../../alerts/watch/life/alarm.ts';
import type { Lab } from '../../lab/lab.ts';
import type { Person } from '../../lab/person.ts';

/** Language, unit and clock that an answer is worded in. */
export type Reader = Pick<Person, 'language' | 'temperatureUnit' | 'hourCycle'>;

interface AlarmText {
  /** What happened. */
  readonly message: string;
  /** What the heat does to the wax. */
  readonly meaning: string;
  readonly action: string;
  /** The safety caution; empty when the rule needs none. */
  readonly caution: string;
}

export type AlarmWords = (alarm: Alarm, lab: Lab, reader: Reader) => AlarmText;
