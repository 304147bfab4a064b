// A notice desk over a lab with one person and one webhook, for tests that look at what leaves the lab process.

import { join } from 'node:path';
import { noticeKeys } from '../alerts/notices/channels/notice-keys.ts';
import { normalAlarm } from '../alerts/watch/life/alarm-step.ts';
import type { AlarmChange } from '../alerts/watch/life/alarm.ts';
import type { MailServer } from '../lab/database/mail-setting.ts';
import { type NoticeDesk, openNoticeDesk } from '../alerts/notices/notice-desk.ts';
import { type LabDatabase, openDatabase } from '../lab/database/database.ts';
import { openLabRepository } from '../lab/database/sqlite-lab-repository.ts';
import { DEFAULT_NOTIFICATION_PLAN } from '../lab/notification-plan.ts';
import type { EpochMillis } from '../wax/units.ts';

export interface DeskForTests {
  readonly desk: NoticeDesk;
  readonly database: LabDatabase;
  /** Steps the alarm in one transaction, as the pipeline does. */
  readonly change: (subject: string, kind: 'raised' | 'cleared') => void;
  readonly close: () => Promise<void>;
}

export interface DeskOptions {
  readonly folder: string;
  readonly webhook: string;
  readonly mail: MailServer | null;
  readonly now: () => EpochMillis;
  readonly after: (millis: number, work: () => void) => () => void;
  readonly reportSelfCheck?: (text: string) => void;
}

export function deskForTests(options: DeskOptions): DeskForTests {
  const database = openDatabase(join(options.folder, 'lab.sqlite'));
  const repository = openLabRepository(database, options.now);
  repository.savePerson({
    id: 'mara',
    name: 'Mara',
    role: 'manager',
    language: 'de',
    temperatureUnit: 'celsius',
    hourCycle: 'h23',
    email: 'mara@lab.example',
    namesOnLockScreen: false,
    morningHeartbeat: false,
  });
  repository.saveNotificationPlan({
    ...DEFAULT_NOTIFICATION_PLAN,
    webhooks: [{ id: 'chat', name: 'Chat', url: options.webhook, template: null }],
  });
  const desk = openNoticeDesk({
    database,
    lab: repository.lab,
    keys: noticeKeys(join(options.folder, 'notice-keys.json')),
    now: options.now,
    after: options.after,
    deliver: async () => ({ kind: 'taken', receivers: 'some' }),
    mail: () => options.mail,
    contact: null,
    pushHosts: [],
    webhookHosts: ['127.0.0.1'],
    reportSelfCheck: ({ part, name, ok }) =>
      options.reportSelfCheck?.(
        part === 'channel' ? `${name} ${ok ? 'works' : 'fails'}` : `notices ${ok ? 'work' : 'fail'}`,
      ),
    openCount: () => 0,
  });
  return {
    desk,
    database,
    change: (subject, kind) => {
      const identity = {
        rule: 'over-ceiling',
        subject,
        subjectKind: 'station',
        priority: 'urgent',
        latches: false,
      } as const;
      const at = options.now();
      const alarm = {
        ...normalAlarm(identity, at),
        id: subject,
        active: kind === 'raised',
        acknowledged: false,
        count: 1,
      };
      const change: AlarmChange = { kind, at, by: null, reason: null, alarm };
      database.transaction(() => desk.write([change], null)(database.writer));
    },
    close: async () => {
      await desk.stop();
      database.close();
    },
  };
}
