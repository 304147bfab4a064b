// The post of the night sheet over a running house: looked at from time to time, with the mail server of the settings.

import { setTimeout as delay } from 'node:timers/promises';
import { alarmText } from '../alerts/notices/texts/alarm-text.ts';
import { openMailRecord } from '../dashboard/reports/night/mail-record.ts';
import { sheetMailer } from '../dashboard/reports/night/sheet-mailer.ts';
import { openSheetRecord } from '../dashboard/reports/night/sheet-record.ts';
import type { RunningLab } from '../dashboard/queries/running-lab.ts';
import type { LabDatabase } from '../lab/database.ts';
import type { ProcessSettings } from './settings.ts';

const LOOK_MILLIS = 20_000;
/** A mail server that does not answer must not hold up the end; the sheet is tried again at the next start. */
const CLOSING_MILLIS = 1500;

/** Answers how to end it. Without a mail server nothing is sent. */
export const startNightPost = (
  running: RunningLab,
  database: LabDatabase,
  { mail, mailFrom }: Pick<ProcessSettings, 'mail' | 'mailFrom'>,
): (() => Promise<void>) => {
  if (mail === null) return async () => {};
  const mailer = sheetMailer({
    running,
    alarmWords: alarmText,
    record: openSheetRecord(database),
    mails: openMailRecord(database),
    server: mail,
    from: mailFrom,
  });
  // A store that is away is told by the health of the house; the next look tries again.
  const look = (): Promise<void> => mailer.runDue().catch(() => {});
  const timer = setInterval(() => void look(), LOOK_MILLIS);
  return async () => {
    clearInterval(timer);
    await Promise.race([mailer.close(), delay(CLOSING_MILLIS, undefined, { ref: false })]);
  };
};
