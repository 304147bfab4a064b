// A notice by e-mail, as text and as plain HTML, in the reader's language. The same line keeps the same Message-ID,
// so that a mailbox can tell a repeat. Over the lab's own mail server; nothing else is contacted.

import type { MailServer } from '../../../lab/database/mail-setting.ts';
import type { Person } from '../../../lab/person.ts';
import { isCall } from '../outbox/lane.ts';
import type { OutboxMessage, SendOutcome } from '../outbox/outbox-row.ts';
import type { Send } from '../outbox/runner.ts';
import { messageOf } from '../../../words/load-languages.ts';
import { errorAnswer, ownWords, sendAnswer } from '../outbox/send-answer.ts';
import { type NoticeText, partsOf } from '../texts/notice-parts.ts';
import { mailDomain, mailTransport } from './mail-transport.ts';
import { pushTopic } from './push.ts';

export interface MailParts {
  /** Null: nothing is sent by e-mail. */
  readonly mail: () => MailServer | null;
  /** Null when the person has left the lab. */
  readonly words: (message: OutboxMessage) => { readonly person: Person; readonly text: NoticeText } | null;
}

const TIMEOUT_MILLIS = 15_000;
/** It would begin a word that mailboxes decode (RFC 2047), and a name could hide another text in it. */
const ENCODED_WORD = '=?';

const escapeHtml = (text: string): string =>
  text.replace(/[&<>"]/g, (sign) => `&#${sign.charCodeAt(0)};`).replaceAll('\n', '<br>');

/** 5xx is final (RFC 5321, 4.2.1), except for a login that an administrator can mend. */
function outcomeOf(error: unknown): SendOutcome {
  const { responseCode, code } = error as { readonly responseCode?: number; readonly code?: string };
  const isFinal = responseCode !== undefined && responseCode >= 500 && code !== 'EAUTH';
  const answer = errorAnswer(error);
  return isFinal ? { kind: 'refused', answer } : { kind: 'retry', answer, retryAfterMillis: null };
}

export function mailSender({ mail, words }: MailParts): Send & { readonly close: () => void } {
  const { current, close } = mailTransport(mail, TIMEOUT_MILLIS);
  const send = async (message: OutboxMessage): Promise<SendOutcome> => {
    const { rows } = message;
    const server = current();
    if (server === null)
      return { kind: 'retry', answer: sendAnswer('no-mail-server'), retryAfterMillis: null };
    const letter = words(message);
    const email = rows[0].body.account?.mailbox ?? letter?.person.email ?? null;
    if (letter === null || email === null) return { kind: 'gone', answer: sendAnswer('no-address') };
    const { person, text } = letter;
    const parts = partsOf(text);
    const footer = messageOf(person.language, 'notice.footer') ?? '';
    try {
      const { response } = await server.transport.sendMail({
        from: server.from,
        // As an address alone: a text would be read as a list of them.
        to: { name: '', address: email },
        subject: text.title.replaceAll(ENCODED_WORD, '= ?'),
        messageId: `<${pushTopic(rows[0].key)}@${mailDomain(server.from)}>`,
        // Against automatic answers (RFC 3834).
        headers: {
          'Auto-Submitted': 'auto-generated',
          ...(rows.some(({ isRepeat }) => isRepeat) && { 'X-Repeat': 'true' }),
        },
        priority: rows.some(({ kind }) => isCall(kind)) ? 'high' : 'normal',
        text: `${[...parts, `-- \n${footer}`].join('\n\n')}\n`,
        html: `<!doctype html><html lang="${person.language}"><body>${parts.map((part) => `<p>${escapeHtml(part)}</p>`).join('')}<hr><p><small>${escapeHtml(footer)}</small></p></body></html>`,
      });
      return { kind: 'delivered', answer: ownWords(response ?? '') };
    } catch (error) {
      return outcomeOf(error);
    }
  };
  return Object.assign(send, { close });
}
