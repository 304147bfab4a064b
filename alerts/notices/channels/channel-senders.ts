// The sender of each channel, with the words of each row for its reader.

import type { Agent } from 'node:https';
import type { Lab } from '../../../lab/lab.ts';
import type { Person } from '../../../lab/person.ts';
import { messageOf } from '../../../words/load-languages.ts';
import type { EpochMillis } from '../../../wax/units.ts';
import type { Channel, OutboxRow } from '../outbox/outbox-row.ts';
import type { Send } from '../outbox/runner.ts';
import { sendAnswer } from '../outbox/send-answer.ts';
import { type NoticeText, noticeText } from '../texts/notice-text.ts';
import type { AcknowledgeLinks } from './acknowledge-link.ts';
import { lampSender, type Publish } from './lamp.ts';
import { mailSender } from './mail.ts';
import { type NoticeKeys, webhookSecret } from './notice-keys.ts';
import { pushSender } from './push.ts';
import type { PushPayload } from './push-payload.ts';
import type { Subscriptions } from './subscriptions.ts';
import { webhookSender } from './webhook.ts';

export interface MailServer {
  readonly server: string;
  readonly from: string;
}

export interface SenderParts {
  readonly lab: () => Lab;
  readonly keys: NoticeKeys;
  readonly now: () => EpochMillis;
  readonly publish: Publish;
  /** Null: nothing is sent by e-mail. */
  readonly mail: MailServer | null;
  /** Whom a push service can ask; null takes the first manager's e-mail address. */
  readonly contact: string | null;
  /** Alarms that are open now, for the morning message. */
  readonly openCount: () => number;
  readonly pushAgent?: Agent;
  /** Hosts that webhooks may reach although they lie on this machine or its network. */
  readonly webhookHosts: readonly string[];
}

export interface ChannelSenders {
  readonly senders: Readonly<Record<Channel, Send>>;
  readonly close: () => void;
}

/** Push services want an address of a real domain (RFC 8292, 2.1); this one is reserved and only a last resort. */
const NO_CONTACT = 'https://example.com';

const contactOf = ({ contact, lab }: SenderParts): string => {
  if (contact !== null) return contact;
  const email = lab().people.find((person) => person.role === 'manager' && person.email !== null)?.email;
  return email ? `mailto:${email}` : NO_CONTACT;
};

/** What a phone shows to acknowledge with one tap; null for a row or a person that cannot. */
const acknowledgement = (
  row: OutboxRow,
  person: Person,
  links: AcknowledgeLinks,
  now: EpochMillis,
): NonNullable<PushPayload['acknowledge']> | null => {
  const { alarm } = row.body;
  const callsForAction = row.kind === 'raised' || row.kind === 'still-open';
  if (!callsForAction || alarm === null || person.role === 'viewer') return null;
  return {
    token: links.make({ alarm: alarm.id, count: alarm.count, person: person.id }, now),
    label: messageOf(person.language, 'notice.acknowledge') ?? '',
    failed: messageOf(person.language, 'notice.not-acknowledged') ?? '',
  };
};

export function channelSenders(
  parts: SenderParts,
  subscriptions: Subscriptions,
  links: AcknowledgeLinks,
): ChannelSenders {
  const { keys, lab, now } = parts;
  const wordsOf = (row: OutboxRow): { readonly person: Person; readonly text: NoticeText } | null => {
    const person = lab().people.find(({ id }) => id === row.person);
    if (person === undefined) return null;
    return { person, text: noticeText(row, lab(), person, parts.openCount()) };
  };
  const mail = parts.mail === null ? null : mailSender({ ...parts.mail, words: wordsOf });
  const withoutMail: Send = async () => ({
    kind: 'retry',
    answer: sendAnswer('no-mail-server'),
    retryAfterMillis: null,
  });
  return {
    senders: {
      push: pushSender({
        keys,
        contact: () => contactOf(parts),
        subscriptions,
        now,
        words: (row) => {
          const words = wordsOf(row);
          return words && { text: words.text, acknowledge: acknowledgement(row, words.person, links, now()) };
        },
        ...(parts.pushAgent !== undefined && { agent: parts.pushAgent }),
      }),
      mail: mail ?? withoutMail,
      webhook: webhookSender({
        lab,
        now,
        webhookHosts: parts.webhookHosts,
        secretOf: (webhook) => webhookSecret(keys, webhook),
      }),
      lamp: lampSender(parts.publish),
    },
    close: () => mail?.close(),
  };
}
