// The notice desk over a running lab process: its keys in the data folder, the machine's timers, the journal.

import { join } from 'node:path';
import { type NoticeDesk, openNoticeDesk } from '../../alerts/notices/notice-desk.ts';
import { noticeKeys } from '../../alerts/notices/channels/notice-keys.ts';
import type { OutboxRow } from '../../alerts/notices/outbox/outbox-row.ts';
import type { Intake } from '../../collector/intake/intake.ts';
import type { LabDatabase } from '../../lab/database/database.ts';
import type { LabRepository } from '../../lab/database/lab-repository.ts';
import type { MailServer } from '../../lab/database/mail-setting.ts';
import type { EpochMillis } from '../../wax/units.ts';
import { replacedFile } from '../console/console-words.ts';
import type { ProcessSettings } from '../settings/settings.ts';

export interface NoticeSettings {
  readonly database: LabDatabase;
  readonly repository: LabRepository;
  readonly settings: ProcessSettings;
  readonly mail: () => MailServer | null;
  readonly intake: Pick<Intake, 'append' | 'deliver'>;
  readonly now: () => EpochMillis;
  readonly openCount: () => number;
  /** False while a simulated past is put in. */
  readonly isSending: () => boolean;
  /** A try of a row is over, or its time ran out. */
  readonly onTried: (row: OutboxRow, isDelivered: boolean) => void;
}

export const openNotices = ({
  database,
  repository,
  settings,
  mail,
  intake,
  now,
  openCount,
  isSending,
  onTried,
}: NoticeSettings): NoticeDesk =>
  openNoticeDesk({
    database,
    lab: repository.lab,
    keys: noticeKeys(join(settings.data, 'notice-keys.json'), (setAside) =>
      console.warn(
        replacedFile(
          'notice-keys.json',
          setAside,
          'Every phone must be set up for alarms again on its own page, and every second factor under Your account.',
        ),
      ),
    ),
    now,
    after: (millis, work) => {
      if (millis === 0) {
        const turn = setImmediate(work);
        return () => clearImmediate(turn);
      }
      const timer = setTimeout(work, millis);
      return () => clearTimeout(timer);
    },
    deliver: intake.deliver,
    isSending,
    onTried,
    mail,
    contact: settings.contact,
    pushHosts: settings.pushHosts,
    webhookHosts: settings.webhookHosts,
    reportSelfCheck: (finding) => {
      // The present among entries of a simulated past would be a clock that is set forward and back. Nothing is tried then
      // that could fail.
      if (!isSending()) return;
      // A disk that refuses is shown by the journal's own state.
      intake.append([{ kind: 'self-check', receivedAt: now(), ...finding }]).catch(() => {});
    },
    openCount,
  });
