// The sender of each channel, with the words of each row for its reader.

import type { Agent } from 'node:https';
import type { Lab } from '../../../lab/lab.ts';
import type { MailServer } from '../../../lab/database/mail-setting.ts';
import type { Person } from '../../../lab/person.ts';
import { messageOf } from '../../../words/load-languages.ts';
import type { EpochMillis } from '../../../wax/units.ts';
import { isCall } from '../outbox/lane.ts';
import type { Channel, OutboxMessage } from '../outbox/outbox-row.ts';
import type { Send } from '../outbox/runner.ts';
import type { NoticeText } from '../texts/notice-parts.ts';
import { noticeText } from '../texts/notice-text.ts';
import type { AcknowledgeLinks } from './acknowledge-link.ts';
import type { Deliver } from './broker-outcome.ts';
import { changeSender, lampSender } from './lamp.ts';
import { mailSender } from './mail.ts';
import { changeSecret, type NoticeKeys, webhookSecret } from './notice-keys.ts';
import { pushSender } from './push.ts';
import type { PushPayload } from './push-payload.ts';
import type { Subscriptions } from './subscriptions.ts';
import { webhookSender } from './webhook.ts';

export interface SenderParts {
  readonly lab: () => Lab;
  readonly keys: NoticeKeys;
  readonly now: () => EpochMillis;
  readonly deliver: Deliver;
  /** Null: nothing is sent by e-mail. */
  readonly mail: () => MailServer | null;
  /** The contact for push services; null takes the first manager's e-mail address. */
  readonly contact: string | null;
  /** Alarms that are open now, for the morning message. */
  readonly openCount: () => number;
  /** Nobody has acknowledged the alarm and it is not over. */
  readonly isOpen: (alarm: string) => boolean;
  readonly pushAgent?: Agent;
  /** Hosts that webhooks may reach although they lie on this machine or its network. */
  readonly webhookHosts: readonly string[];
}

export interface ChannelSenders {
  readonly senders: Readonly<Record<Channel, Send>>;
  readonly close: () => void;
}

/** Push services require an address of a real domain (RFC 8292, 2.1); this one is reserved and only a last resort. */
const NO_CONTACT = 'https://example.com';

const contactOf = ({ contact, lab }: SenderParts): string => {
  if (contact !== null) return contact;
  const email = lab().people.find((person) => person.role === 'manager' && person.email !== null)?.email;
  return email ? `mailto:${email}` : NO_CONTACT;
};

/** What a phone shows to acknowledge with one tap all that it names; null for a message or a person that cannot. */
const acknowledgement = (
  { rows, rest }: OutboxMessage,
  person: Person,
  links: AcknowledgeLinks,
  now: EpochMillis,
): NonNullable<PushPayload['acknowledge']> | null => {
  const calls = [...rows, ...rest].filter(({ kind }) => isCall(kind));
  const alarm = calls[0]?.body.alarm ?? null;
  if (alarm === null || person.role === 'viewer') return null;
  const several = calls.length > 1 ? { rows: calls.map(({ number }) => number) } : {};
  return {
    token: links.make({ alarm: alarm.id, count: alarm.count, person: person.id, ...several }, now),
    label: messageOf(person.language, 'notice.acknowledge', { count: calls.length }) ?? '',
    failed: messageOf(person.language, 'notice.not-acknowledged') ?? '',
  };
};

export function channelSenders(
  parts: SenderParts,
  subscriptions: Subscriptions,
  links: AcknowledgeLinks,
): ChannelSenders {
  const { keys, lab, now } = parts;
  /** What of an earlier message of the same tag nobody has answered yet. */
  const stillOpen = (message: OutboxMessage): OutboxMessage => ({
    ...message,
    rest: message.rest.filter(({ topic }) => parts.isOpen(topic)),
  });
  const wordsOf = (
    message: OutboxMessage,
  ): { readonly person: Person; readonly text: NoticeText; readonly message: OutboxMessage } | null => {
    const person = lab().people.find(({ id }) => id === message.rows[0].person);
    if (person === undefined) return null;
    const shown = stillOpen(message);
    return { person, text: noticeText(shown, lab(), person, parts.openCount()), message: shown };
  };
  const mail = mailSender({ mail: parts.mail, words: wordsOf });
  return {
    senders: {
      push: pushSender({
        keys,
        contact: () => contactOf(parts),
        subscriptions,
        now,
        words: (message) => {
          const words = wordsOf(message);
          return (
            words && {
              text: words.text,
              acknowledge: acknowledgement(words.message, words.person, links, now()),
            }
          );
        },
        ...(parts.pushAgent !== undefined && { agent: parts.pushAgent }),
      }),
      mail,
      webhook: webhookSender({
        lab,
        now,
        webhookHosts: parts.webhookHosts,
        secretOf: (webhook) => webhookSecret(keys, webhook),
      }),
      lamp: lampSender(parts.deliver),
      mqtt: changeSender({ lab, now, deliver: parts.deliver, secret: changeSecret(keys) }),
    },
    close: mail.close,
  };
}
