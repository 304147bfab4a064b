// Everything by which alarms reach people, put together: plan, outbox, channels, links. It opens no connection before
// there is something to send; time, timers, journal and broker are given.

import type { Agent } from 'node:https';
import type { Connection, LabDatabase } from '../../lab/database.ts';
import type { SelfCheckEntry } from '../../lab/entry.ts';
import type { Lab } from '../../lab/lab.ts';
import type { Result } from '../../wax/result.ts';
import { type EpochMillis, MILLIS_PER_MINUTE } from '../../wax/units.ts';
import { type AcknowledgeLinks, acknowledgeLinks } from './channels/acknowledge-link.ts';
import { lampSender, type Publish } from './channels/lamp.ts';
import { mailSender } from './channels/mail.ts';
import { type NoticeKeys, webhookSecret } from './channels/notice-keys.ts';
import { noticeText } from './channels/notice-text.ts';
import { NOTICE_WORDS } from './channels/notice-words.ts';
import { pushSender } from './channels/push.ts';
import {
  checkEndpoint,
  openSubscriptions,
  type Subscription,
  type Subscriptions,
} from './channels/subscriptions.ts';
import { webhookSender } from './channels/webhook.ts';
import type { AlarmChange } from '../watch/life/alarm.ts';
import { nobodyTold } from './outbox/nobody-told.ts';
import { openNotices } from './outbox/notices.ts';
import { openOutbox, type Outbox } from './outbox/outbox.ts';
import type { OutboxRow } from './outbox/outbox-row.ts';
import { outboxRunner } from './outbox/runner.ts';

export interface MailServer {
  readonly server: string;
  readonly from: string;
}

export interface NoticeDeskParts {
  readonly database: LabDatabase;
  readonly lab: () => Lab;
  readonly keys: NoticeKeys;
  readonly now: () => EpochMillis;
  readonly after: (millis: number, work: () => void) => () => void;
  readonly publish: Publish;
  /** Null: nothing is sent by e-mail. */
  readonly mail: MailServer | null;
  /** Whom a push service can ask; null takes the first manager's e-mail address. */
  readonly contact: string | null;
  /** Hosts of push services beside the known ones. */
  readonly pushHosts: readonly string[];
  /** What the desk finds out about itself goes into the journal. */
  readonly tellSelf: (finding: Pick<SelfCheckEntry, 'part' | 'name' | 'ok' | 'detail'>) => void;
  readonly openCount: () => number;
  readonly pushAgent?: Agent;
}

export interface NoticeDesk {
  /** Rows for the alarm's transaction. */
  readonly write: (
    changes: readonly AlarmChange[],
    passed: EpochMillis | null,
  ) => (connection: Connection) => void;
  readonly pushKey: string;
  readonly mailIsSetUp: boolean;
  readonly subscriptions: Subscriptions;
  readonly subscribe: (
    person: string,
    facts: Pick<Subscription, 'endpoint' | 'keys'>,
    name: string,
  ) => Result<string>;
  readonly unsubscribe: (person: string, endpoint: string) => boolean;
  /** Puts a test for this phone into the outbox; answers what the phone reports back. */
  readonly test: (subscription: Subscription) => string;
  /** The phone showed the test. False when there was no such test, or one of another phone. */
  readonly shown: (person: string, test: string) => boolean;
  readonly links: AcknowledgeLinks;
  readonly outbox: Pick<Outbox, 'newest' | 'counts'>;
  readonly webhookSecret: (webhook: string) => string;
  /** Sends what is due now; else it happens by itself. */
  readonly runDue: () => Promise<void>;
  readonly stop: () => Promise<void>;
}

const TEST_MILLIS = 5 * MILLIS_PER_MINUTE;
/** Push services want an address of a real domain (RFC 8292, 2.1); this one is reserved and only a last resort. */
const NO_CONTACT = 'https://example.com';

export function openNoticeDesk(parts: NoticeDeskParts): NoticeDesk {
  const { database, keys, lab, now } = parts;
  const subscriptions = openSubscriptions(database);
  const outbox = openOutbox(database);
  const links = acknowledgeLinks(database, keys.secret);
  const told = nobodyTold({
    outbox,
    isOpen: (alarm) => notices.isOpen(alarm),
    say: (ok, detail) => parts.tellSelf({ part: 'phone-subscriptions', name: '', ok, detail }),
  });
  const readerOf = (row: OutboxRow) => {
    const person = lab().people.find(({ id }) => id === row.person);
    if (person === undefined) return null;
    return { person, text: noticeText(row, lab(), person, parts.openCount()) };
  };
  const linkOf = (row: OutboxRow, language: 'en' | 'de') => {
    const { alarm } = row.body;
    const calls = row.kind === 'raised' || row.kind === 'still-open';
    const person = lab().people.find(({ id }) => id === row.person);
    if (!calls || alarm === null || person === undefined || person.role === 'viewer') return null;
    const facts = { alarm: alarm.id, count: alarm.count, person: person.id };
    const { acknowledge: label, notAcknowledged: failed } = NOTICE_WORDS[language];
    return { token: links.make(facts, now()), label, failed };
  };
  const contact = (): string => {
    if (parts.contact !== null) return parts.contact;
    const email = lab().people.find((person) => person.role === 'manager' && person.email !== null)?.email;
    return email ? `mailto:${email}` : NO_CONTACT;
  };
  const mail = parts.mail === null ? null : mailSender({ ...parts.mail, words: readerOf });
  const runner = outboxRunner({
    outbox,
    now,
    after: parts.after,
    senders: {
      push: pushSender({
        keys,
        contact,
        subscriptions,
        now,
        words: (row) => {
          const reader = readerOf(row);
          return reader && { text: reader.text, acknowledge: linkOf(row, reader.person.language) };
        },
        ...(parts.pushAgent !== undefined && { agent: parts.pushAgent }),
      }),
      mail:
        mail ?? (async () => ({ kind: 'again', detail: 'no mail server is set', retryAfterMillis: null })),
      webhook: webhookSender({ lab, now, secretOf: (webhook) => webhookSecret(keys, webhook) }),
      lamp: lampSender(parts.publish),
    },
    onChannel: (channel, ok, detail) => parts.tellSelf({ part: 'channel', name: channel, ok, detail }),
    onGone: (row) => {
      if (row.channel !== 'push') return;
      subscriptions.remove(row.address);
      if (subscriptions.all().length === 0) told.lastPhoneGone();
    },
    onTried: told.tried,
  });
  const notices = openNotices({
    database,
    outbox,
    lab,
    reach: () => ({
      phones: (person) => subscriptions.of(person).map(({ id }) => id),
      mailIsSetUp: mail !== null,
    }),
    onUnreachable: ({ alarm, people }) => {
      // A lab that never asked to be told hears from the wall.
      const isWanted = lab().notificationPlan !== undefined || subscriptions.everHad() || mail !== null;
      if (!isWanted || alarm === null) return;
      const names = people.map((id) => lab().people.find((person) => person.id === id)?.name ?? id);
      told.hadNoWay(alarm, `no phone and no e-mail of ${names.join(', ')}`);
    },
    onAdded: () => runner.wake(),
  });
  return {
    write: notices.write,
    pushKey: keys.push.publicKey,
    mailIsSetUp: mail !== null,
    subscriptions,
    subscribe: (person, facts, name) => {
      const endpoint = checkEndpoint(facts.endpoint, parts.pushHosts);
      if (!endpoint.ok) return endpoint;
      const id = subscriptions.save(person, facts, name, now());
      told.phoneCame();
      return { ok: true, value: id };
    },
    unsubscribe: (person, endpoint) => {
      const isGone = subscriptions.removeOf(person, endpoint);
      if (isGone && subscriptions.all().length === 0) told.lastPhoneGone();
      return isGone;
    },
    test: ({ id, person }) => {
      const at = now();
      const test = links.make({ alarm: `test ${id}`, count: 0, person }, at);
      database.transaction(() =>
        outbox.add([
          {
            key: `test.${id}.${at}`,
            channel: 'push',
            address: id,
            person,
            topic: 'test',
            kind: 'test',
            body: { at, alarm: null, test },
            createdAt: at,
            nextAt: at,
            expiresAt: (at + TEST_MILLIS) as EpochMillis,
          },
        ]),
      );
      runner.wake();
      return test;
    },
    shown: (person, test) => {
      const link = links.check(test, now());
      if (!link.ok || link.value.person !== person || !link.value.alarm.startsWith('test ')) return false;
      const subscription = subscriptions.find(link.value.alarm.slice('test '.length));
      if (subscription === null || !links.use(link.value.nonce, now())) return false;
      subscriptions.tested(subscription.id, now());
      return true;
    },
    links,
    outbox,
    webhookSecret: (webhook) => webhookSecret(keys, webhook),
    runDue: runner.runDue,
    stop: async () => {
      await runner.stop();
      mail?.close();
    },
  };
}
