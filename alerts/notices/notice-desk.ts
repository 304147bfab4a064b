// Everything by which alarms reach people, put together: plan, outbox, channels, links. It opens no connection before
// there is something to send; time, timers, journal and broker are given.

import type { Connection, LabDatabase } from '../../lab/database/database.ts';
import type { SelfCheckEntry } from '../../lab/entry.ts';
import type { Person } from '../../lab/person.ts';
import type { Result } from '../../wax/result.ts';
import type { EpochMillis } from '../../wax/units.ts';
import { type AcknowledgeLinks, acknowledgeLinks } from './channels/acknowledge-link.ts';
import { channelSenders, type SenderParts } from './channels/channel-senders.ts';
import { changeSecret, derivedKey, webhookSecret } from './channels/notice-keys.ts';
import { phoneTest, testShown } from './channels/phone-test.ts';
import { receivers } from './channels/receivers.ts';
import { routeTest } from './channels/route-test.ts';
import {
  checkEndpoint,
  openSubscriptions,
  type Subscription,
  type Subscriptions,
} from './channels/subscriptions.ts';
import type { Alarm, AlarmChange } from '../watch/life/alarm.ts';
import type { Reach } from './outbox/address-rows.ts';
import { openNotices } from './outbox/notices.ts';
import { accountRows } from './outbox/account-rows.ts';
import type { Channel, OutboxBody, OutboxRow } from './outbox/outbox-row.ts';
import { openOutbox, type Outbox } from './outbox/outbox.ts';
import { outboxRunner } from './outbox/runner.ts';
import { sendUnrecorded, type UnrecordedKind, unrecordedRows } from './outbox/unrecorded.ts';
import { type UnreachedAlarms, unreachedAlarms } from './outbox/unreached.ts';
import { encodeCause, type SelfCause } from './texts/self-cause.ts';

export interface NoticeDeskParts extends Omit<SenderParts, 'isOpen'> {
  readonly database: LabDatabase;
  readonly after: (millis: number, work: () => void) => () => void;
  /** False while a simulated past is put in: nobody is notified of it. Always true when absent. */
  readonly isSending?: () => boolean;
  /** Hosts of push services beside the known ones. */
  readonly pushHosts: readonly string[];
  /** For the log: a try of a row is over, or its time ran out. */
  readonly onTried?: (row: OutboxRow, isDelivered: boolean) => void;
  /** Whether a channel works and whether alarms reach anybody; goes into the journal. */
  readonly reportSelfCheck: (finding: Pick<SelfCheckEntry, 'part' | 'name' | 'ok' | 'detail'>) => void;
}

export interface NoticeDesk {
  /** Rows for the alarm's transaction. */
  readonly write: (
    changes: readonly AlarmChange[],
    passed: EpochMillis | null,
  ) => (connection: Connection) => void;
  readonly pushKey: string;
  readonly mailIsSetUp: () => boolean;
  readonly subscriptions: Subscriptions;
  readonly subscribe: (
    person: string,
    facts: Pick<Subscription, 'endpoint' | 'keys'>,
    name: string,
  ) => Result<string>;
  readonly unsubscribe: (person: string, endpoint: string) => boolean;
  /** Whoever left the lab gets nothing more, nor does a later person of the same id by these phones. */
  readonly unsubscribeAll: (person: string) => void;
  /** Puts a test for this phone into the outbox; returns the token that the phone reports back. */
  readonly test: (subscription: Subscription) => string;
  /** Puts a test of another route into the outbox; returns the number of its row. */
  readonly testRoute: (
    channel: Exclude<Channel, 'push'>,
    address: string,
    person: string | null,
  ) => number | null;
  /** The phone showed the test. False when there was no such test, or one of another phone. */
  readonly shown: (person: string, test: string) => boolean;
  /** To the person whose account it is. */
  readonly notifyOfAccount: (person: Person, account: NonNullable<OutboxBody['account']>) => void;
  /** To the old mailbox, because whoever changed it without right has the new one. `from` is where it was changed. */
  readonly notifyOfNewEmail: (before: Person, after: Person, from: string) => void;
  readonly links: AcknowledgeLinks;
  readonly outbox: Pick<Outbox, 'newest' | 'counts' | 'byNumber' | 'ofAlarm' | 'queueAges'>;
  readonly webhookSecret: (webhook: string) => string;
  /** Goes out at once and past the outbox, for what must be known while nothing can be written. */
  readonly sendUnrecorded: (kind: UnrecordedKind, alarm: Alarm) => Promise<void>;
  /** By which changes on MQTT are signed. */
  readonly changeSecret: string;
  /** 32 bytes for a further use, of the keys that lie beside the database. */
  readonly derivedKey: (use: string) => Buffer;
  /** Sends what is due now; else it happens by itself. */
  readonly runDue: () => Promise<void>;
  readonly stop: () => Promise<void>;
}

const phones = (
  { database, now, pushHosts }: NoticeDeskParts,
  desk: {
    readonly subscriptions: Subscriptions;
    readonly outbox: Outbox;
    readonly links: AcknowledgeLinks;
    readonly unreached: UnreachedAlarms;
    readonly wake: () => void;
  },
): Pick<NoticeDesk, 'subscriptions' | 'subscribe' | 'unsubscribe' | 'unsubscribeAll' | 'test' | 'shown'> => {
  const { subscriptions, links } = desk;
  const noteWhenLast = (wasSubscribed: boolean): boolean => {
    if (wasSubscribed && subscriptions.all().length === 0) desk.unreached.lastPhoneUnsubscribed();
    return wasSubscribed;
  };
  return {
    subscriptions,
    subscribe: (person, facts, name) => {
      const endpoint = checkEndpoint(facts.endpoint, pushHosts);
      if (!endpoint.ok) return endpoint;
      const id = subscriptions.save(person, facts, name, now());
      desk.unreached.phoneSubscribed();
      return { ok: true, value: id };
    },
    unsubscribe: (person, endpoint) => noteWhenLast(subscriptions.removeOf(person, endpoint)),
    unsubscribeAll: (person) => {
      noteWhenLast(subscriptions.removeAllOf(person));
    },
    test: (subscription) => {
      const { row, token } = phoneTest(subscription, links, now());
      database.transaction(() => desk.outbox.add([row]));
      desk.wake();
      return token;
    },
    shown: (person, test) => testShown(person, test, links, subscriptions, now()),
  };
};

const accountNotices = (
  { database, now }: NoticeDeskParts,
  outbox: Outbox,
  reach: () => Reach,
  wake: () => void,
): Pick<NoticeDesk, 'notifyOfAccount' | 'notifyOfNewEmail'> => {
  const notifyOfAccount: NoticeDesk['notifyOfAccount'] = (person, account) => {
    const rows = accountRows(person, account, reach(), now());
    if (rows.length === 0) return;
    database.transaction(() => outbox.add(rows));
    wake();
  };
  return {
    notifyOfAccount,
    notifyOfNewEmail: (before, after, from) => {
      if (before.email !== null && before.email !== after.email)
        notifyOfAccount(before, { what: 'email_changed', from, mailbox: before.email });
    },
  };
};

export function openNoticeDesk(parts: NoticeDeskParts): NoticeDesk {
  const { database, keys, lab, now } = parts;
  const subscriptions = openSubscriptions(database);
  const outbox = openOutbox(database);
  const links = acknowledgeLinks(database, keys.secret);
  const report = (part: SelfCheckEntry['part'], name: string, ok: boolean, cause: SelfCause): void =>
    parts.reportSelfCheck({ part, name, ok, detail: encodeCause(cause) });
  const unreached = unreachedAlarms({
    outbox,
    isOpen: (alarm) => notices.isOpen(alarm),
    report: (isReaching, cause) => report('phone-subscriptions', '', isReaching, cause),
  });
  const mailIsSetUp = (): boolean => parts.mail() !== null;
  const receiving = receivers(lab, subscriptions, mailIsSetUp);
  const { senders, close } = channelSenders(
    { ...parts, isOpen: (alarm) => notices.isOpen(alarm) },
    subscriptions,
    links,
  );
  const runner = outboxRunner({
    outbox,
    now,
    after: parts.after,
    senders,
    onChannel: (channel, works, answer, address) =>
      report('channel', channel, works, {
        code: 'channel-answered',
        answer,
        receiver: receiving.nameOf(channel, address),
      }),
    onGone: (row) => {
      if (row.channel !== 'push') return;
      subscriptions.remove(row.address);
      if (subscriptions.all().length === 0) unreached.lastPhoneUnsubscribed();
    },
    onTried: (row, isDelivered) => {
      unreached.tried(row, isDelivered);
      parts.onTried?.(row, isDelivered);
    },
  });
  const reach = (): Reach => ({
    phones: (person) => subscriptions.of(person).map(({ id }) => id),
    mailIsSetUp: mailIsSetUp(),
    isFailing: runner.health.isFailing,
  });
  const notices = openNotices({
    database,
    outbox,
    lab,
    now,
    isSending: parts.isSending ?? (() => true),
    reach,
    onUnreachable: ({ alarm, people }) => {
      // A lab that never set up notices has the wall alone.
      const isWanted = lab().notificationPlan !== undefined || subscriptions.everHad() || mailIsSetUp();
      if (!isWanted || alarm === null) return;
      const nameOf = (id: string): string => lab().people.find((person) => person.id === id)?.name ?? id;
      unreached.hadNoChannel(alarm, people.map(nameOf));
    },
    // After what the commit brings about: beginning a try waits for the disk, and screens should not wait with it.
    onAdded: () => void parts.after(0, runner.wake),
  });
  // What an earlier process left on its way waits for no new alarm.
  parts.after(0, runner.wake);
  return {
    ...phones(parts, { subscriptions, outbox, links, unreached, wake: runner.wake }),
    write: (changes, passed) => {
      // Not with every reading: who receives is read from the database.
      if (passed !== null || changes.length > 0) runner.health.keep(receiving.addresses);
      return notices.write(changes, passed);
    },
    pushKey: keys.push.publicKey,
    mailIsSetUp,
    testRoute: (channel, address, person) => {
      const row = routeTest(channel, address, person, now());
      database.transaction(() => outbox.add([row]));
      runner.wake();
      return outbox.numberOf(row.key);
    },
    ...accountNotices(parts, outbox, reach, runner.wake),
    links,
    outbox,
    webhookSecret: (webhook) => webhookSecret(keys, webhook),
    changeSecret: changeSecret(keys),
    derivedKey: (use) => derivedKey(keys.secret, use),
    sendUnrecorded: (kind, alarm) =>
      sendUnrecorded(unrecordedRows(kind, alarm, now(), lab(), reach()), senders),
    runDue: runner.runDue,
    stop: async () => {
      await runner.stop();
      close();
    },
  };
}
