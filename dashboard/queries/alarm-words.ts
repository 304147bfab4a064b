// An alarm in the words of its reader.

import type { AlarmText } from '../../alerts/notices/texts/alarm-text.ts';
import type { Alarm } from '../../alerts/watch/life/alarm.ts';
import type { Lab } from '../../lab/lab.ts';
import type { ReaderSettings } from '../../words/quantity.ts';

export type AlarmWords = (alarm: Alarm, lab: Lab, reader: ReaderSettings) => AlarmText;
