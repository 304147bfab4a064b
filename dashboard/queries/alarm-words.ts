// An alarm in the words of its reader.

import type { Alarm } from '../../alerts/watch/life/alarm.ts';
import type { Lab } from '../../lab/lab.ts';
import type { ReaderSettings } from '../../words/quantity.ts';

interface AlarmText {
  /** What happened. */
  readonly message: string;
  /** What the heat does to the wax. */
  readonly meaning: string;
  readonly action: string;
  /** The safety caution; empty when the rule needs none. */
  readonly caution: string;
}

export type AlarmWords = (alarm: Alarm, lab: Lab, reader: ReaderSettings) => AlarmText;
