// Sends the night sheet as a PDF to those who chose it, each in their own language and unit. What is to be sent is
// written down before it is tried; it is tried again with growing pauses until it is accepted or the morning is over.

import {
  mailDomain,
  type MailTransport,
  mailTransport,
} from '../../../alerts/notices/channels/mail-transport.ts';
import type { MailServer } from '../../../lab/database/mail-setting.ts';
import type { Person } from '../../../lab/person.ts';
import { epochMillis, MILLIS_PER_MINUTE } from '../../../wax/units.ts';
import { errorAnswer, ownWords } from '../../../alerts/notices/outbox/send-answer.ts';
import type { NightSheet } from '../../api/night.ts';
import { nightToMail } from './mail-plan.ts';
import type { MailRecord } from './mail-record.ts';
import { makeSheet, type SheetMaker } from './make-sheet.ts';
import type { NightSpan } from './night-span.ts';
import type { MakePaper } from './paper-order.ts';
import { type SheetWords, sheetWords } from './sheet-words.ts';

export interface SheetMailerParts extends SheetMaker {
  readonly mails: MailRecord;
  readonly makePaper: MakePaper;
  /** Null: nothing is sent. */
  readonly mail: () => MailServer | null;
}

export interface SheetMailer {
  /** Sends what is due now; calls while it sends join it. */
  readonly runDue: () => Promise<void>;
  /** Waits for what is on its way; nothing is begun or drawn any more. */
  readonly close: () => Promise<void>;
}

interface Ending {
  readonly ending: AbortSignal;
}
type OpenMail = NonNullable<ReturnType<MailTransport['current']>>;

const TIMEOUT_MILLIS = 20_000;
const FIRST_PAUSE_MILLIS = MILLIS_PER_MINUTE;
const LONGEST_PAUSE_MILLIS = 30 * MILLIS_PER_MINUTE;

const mailText = (sheet: NightSheet, { text, word }: SheetWords): string => {
  const { remake, check, mayBeInvested } = sheet.counts;
  return [
    `${word('verdict', 'remake')}: ${remake} · ${word('verdict', 'check')}: ${check} · ${word('verdict', 'may-be-invested')}: ${mayBeInvested}`,
    `${text('see-to')}:`,
    ...(sheet.seeTo.length === 0 ? [text('nothing-to-see-to')] : sheet.seeTo.map((item) => `- ${item.text}`)),
    '',
    text('advises'),
  ].join('\n');
};

/** 5xx is final (RFC 5321, 4.2.1), except for a login that can be mended. */
const isFinal = (error: unknown): boolean => {
  const { responseCode, code } = error as { readonly responseCode?: number; readonly code?: string };
  return responseCode !== undefined && responseCode >= 500 && code !== 'EAUTH';
};

/** What the mail server answered. */
const sendSheet = async (
  parts: SheetMailerParts & Ending,
  { transport, from }: OpenMail,
  person: Person,
  email: string,
  span: NightSpan,
): Promise<string> => {
  const { site } = parts.running.lab();
  const words = sheetWords(person, site.timeZone);
  const sheet = await makeSheet(parts, span, words);
  const { remake, check, mayBeInvested } = sheet.counts;
  const { reader, timeZone } = words;
  const size = parts.mails.setting().paper;
  const pdf = await parts.makePaper({ kind: 'night', sheet, reader, timeZone, size }, parts.ending);
  const { response } = await transport.sendMail({
    from,
    to: { name: '', address: email },
    subject: words.text('mail-subject', {
      day: words.day(sheet.opens),
      remake,
      check,
      invest: mayBeInvested,
    }),
    // The same sheet to the same person keeps its id, so that a mailbox can tell a repeat.
    messageId: `<night-${site.id}-${span.date}-${encodeURIComponent(person.id)}@${mailDomain(from)}>`,
    // Against automatic answers (RFC 3834).
    headers: { 'Auto-Submitted': 'auto-generated' },
    text: mailText(sheet, words),
    attachments: [{ filename: `night-${span.date}.pdf`, content: pdf, contentType: 'application/pdf' }],
  });
  return response ?? '';
};

/** One try, written down before and after; nothing when it is not due. */
const trySheet = async (
  parts: SheetMailerParts & Ending,
  mail: OpenMail,
  person: Person,
  email: string,
  span: NightSpan,
): Promise<void> => {
  const { mails, running } = parts;
  const before = mails.mailed(span.date, person.id);
  const now = running.now();
  if (before?.state === 'sent' || before?.state === 'refused' || (before?.nextAt ?? 0) > now) return;
  const attempts = (before?.attempts ?? 0) + 1;
  const pause = Math.min(FIRST_PAUSE_MILLIS * 2 ** (attempts - 1), LONGEST_PAUSE_MILLIS);
  const row = { date: span.date, person: person.id, attempts, nextAt: epochMillis(now + pause) };
  mails.put({ ...row, state: 'sending', at: now, answer: null });
  try {
    const answer = ownWords(await sendSheet(parts, mail, person, email, span));
    mails.put({ ...row, state: 'sent', at: running.now(), answer });
  } catch (error) {
    // Sent after the next start, as what a killed process left.
    if (parts.ending.aborted) return;
    const state = isFinal(error) ? 'refused' : 'again';
    mails.put({ ...row, state, at: running.now(), answer: errorAnswer(error) });
  }
};

export const sheetMailer = (given: SheetMailerParts): SheetMailer => {
  const ending = new AbortController();
  const parts = { ...given, ending: ending.signal };
  const { running, mails } = parts;
  const transport = mailTransport(parts.mail, TIMEOUT_MILLIS);
  let sending: Promise<void> | null = null;
  const sendDue = async (): Promise<void> => {
    const { time, recipients } = mails.setting();
    const { site, people } = running.lab();
    const span = nightToMail(site, time, running.now());
    if (span === null) return;
    for (const person of people) {
      const mail = transport.current();
      if (mail !== null && !ending.signal.aborted && recipients.includes(person.id) && person.email !== null)
        await trySheet(parts, mail, person, person.email, span);
    }
  };
  return {
    runDue: () => {
      sending ??= sendDue().finally(() => {
        sending = null;
      });
      return sending;
    },
    close: async () => {
      ending.abort();
      transport.close();
      await sending?.catch(() => {});
    },
  };
};
