// The post of the night sheet over a running house: looked at from time to time, with the mail server of the settings.

import { setTimeout as delay } from 'node:timers/promises';
import { alarmText } from '../alerts/notices/words/alarm-text.ts';
import { openPostRecord } from '../dashboard/reports/night/post-record.ts';
import { sheetPost } from '../dashboard/reports/night/sheet-post.ts';
import { openSheetRecord } from '../dashboard/reports/night/sheet-record.ts';
import type { RunningLab } from '../dashboard/queries/running-lab.ts';
import type { LabDatabase } from '../lab/database.ts';
import type { Settings } from './settings.ts';

const LOOK_MILLIS = 20_000;
/** A mail server that does not answer must not hold up the end; the sheet is tried again at the next start. */
const CLOSING_MILLIS = 1500;

/** Answers how to end it. Without a mail server nothing is sent. */
export const startNightPost = (
  running: RunningLab,
  database: LabDatabase,
  { mail, mailFrom }: Pick<Settings, 'mail' | 'mailFrom'>,
): (() => Promise<void>) => {
  if (mail === null) return async () => {};
  const post = sheetPost({
    running,
    alarmWords: alarmText,
    record: openSheetRecord(database),
    post: openPostRecord(database),
    server: mail,
    from: mailFrom,
  });
  // A store that is away is told by the health of the house; the next look tries again.
  const look = (): Promise<void> => post.runDue().catch(() => {});
  const timer = setInterval(() => void look(), LOOK_MILLIS);
  return async () => {
    clearInterval(timer);
    await Promise.race([post.close(), delay(CLOSING_MILLIS, undefined, { ref: false })]);
  };
};
