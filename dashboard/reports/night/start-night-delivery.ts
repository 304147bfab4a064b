// Delivers the night sheet while the lab runs: what is due is checked from time to time and sent by the mail server of
// the settings.

import { setTimeout as delay } from 'node:timers/promises';
import { alarmText } from '../../../alerts/notices/texts/alarm-text.ts';
import type { LabDatabase } from '../../../lab/database/database.ts';
import type { MailServer } from '../../../lab/database/mail-setting.ts';
import type { RunningLab } from '../../queries/running-lab.ts';
import { openMailRecord } from './mail-record.ts';
import type { MakePaper } from './paper-order.ts';
import { sheetMailer } from './sheet-mailer.ts';
import { openSheetRecord } from './sheet-record.ts';

const INTERVAL_MILLIS = 20_000;
/** A mail server that does not answer must not hold up the end; the sheet is tried again at the next start. */
const CLOSING_MILLIS = 1500;

/** Returns a function that ends it. Without a mail server nothing is sent, until one is set. */
export const startNightDelivery = (
  running: RunningLab,
  database: LabDatabase,
  mail: () => MailServer | null,
  makePaper: MakePaper,
): (() => Promise<void>) => {
  const mailer = sheetMailer({
    running,
    alarmWords: alarmText,
    record: openSheetRecord(database),
    mails: openMailRecord(database),
    mail,
    makePaper,
  });
  // A store that is away is shown by the health of the process; the next run tries again.
  const run = (): Promise<void> => mailer.runDue().catch(() => {});
  const timer = setInterval(() => void run(), INTERVAL_MILLIS);
  return async () => {
    clearInterval(timer);
    await Promise.race([mailer.close(), delay(CLOSING_MILLIS, undefined, { ref: false })]);
  };
};
