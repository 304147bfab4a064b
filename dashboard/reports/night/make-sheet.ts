// The sheet of one night as everybody gets it: read from the running lab, with the notes and signatures on it.

import type { NightSheet } from '../../api/night.ts';
import type { RunningLab } from '../../queries/running-lab.ts';
import type { AlarmWords } from '../../queries/alarm-words.ts';
import { gatherNight } from './gather-night.ts';
import { nightSheet } from './night-sheet.ts';
import type { NightSpan } from './night-span.ts';
import { digestOf, type SheetRecord } from './sheet-record.ts';
import type { SheetWords } from './sheet-words.ts';

export interface SheetMaker {
  readonly running: RunningLab;
  readonly alarmWords: AlarmWords;
  readonly record: SheetRecord;
}

export const makeSheet = async (
  { running, alarmWords, record }: SheetMaker,
  span: NightSpan,
  words: SheetWords,
): Promise<NightSheet> => {
  const inputs = await gatherNight(running, alarmWords, span, words.reader);
  return nightSheet(inputs, record.of(span.date), digestOf, words);
};
