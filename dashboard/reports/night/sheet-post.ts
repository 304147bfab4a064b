// Sends the night sheet as a PDF to those who asked for it, each in their own language and unit. What is to be sent is
// written down before it is tried; it is tried again with growing pauses until it is taken or the morning is over.

import nodemailer from 'nodemailer';
import type { Person } from '../../../lab/person.ts';
import { epochMillis, MILLIS_PER_MINUTE } from '../../../wax/units.ts';
import type { NightSheet } from '../../api/night.ts';
import { makeSheet, type SheetMaker } from './make-sheet.ts';
import type { NightSpan } from './night-span.ts';
import { nightToPost } from './post-plan.ts';
import type { PostRecord } from './post-record.ts';
import { nightPdf } from './sheet-pdf.ts';
import { type Speaker, speaker } from '../words/night-words.ts';

export interface SheetPostParts extends SheetMaker {
  readonly post: PostRecord;
  /** `smtp://` or `smtps://`, with login where the server wants one. */
  readonly server: string;
  readonly from: string;
}

const TIMEOUT_MILLIS = 20_000;
const FIRST_PAUSE_MILLIS = MILLIS_PER_MINUTE;
const LONGEST_PAUSE_MILLIS = 30 * MILLIS_PER_MINUTE;

const mailText = (sheet: NightSheet, { text }: Speaker): string =>
  [
    `${text('remake')}: ${sheet.counts.remake} · ${text('check')}: ${sheet.counts.check} · ${text('may-invest')}: ${sheet.counts.mayBeInvested}`,
    `${text('see-to')}:`,
    ...(sheet.seeTo.length === 0 ? [text('nothing-to-see-to')] : sheet.seeTo.map((one) => `- ${one.text}`)),
    '',
    text('advises'),
  ].join('\n');

/** 5xx is final (RFC 5321, 4.2.1), except for a login that can be mended. */
const isFinal = (error: unknown): boolean => {
  const { responseCode, code } = error as { readonly responseCode?: number; readonly code?: string };
  return responseCode !== undefined && responseCode >= 500 && code !== 'EAUTH';
};

export interface SheetPost {
  /** Sends what is due now; calls while it is at it join it. */
  readonly runDue: () => Promise<void>;
  /** Waits for what is on its way; nothing is begun any more. */
  readonly close: () => Promise<void>;
}

export const sheetPost = (parts: SheetPostParts): SheetPost => {
  const { running, post } = parts;
  const transport = nodemailer.createTransport({
    url: parts.server,
    connectionTimeout: TIMEOUT_MILLIS,
    greetingTimeout: TIMEOUT_MILLIS,
    socketTimeout: TIMEOUT_MILLIS,
  });
  const domain = parts.from.split('@')[1]?.replace(/[^A-Za-z0-9.-]/g, '') || 'waxwarden.invalid';

  const send = async (person: Person, email: string, span: NightSpan): Promise<string> => {
    const { site } = running.lab();
    const speaks = speaker(person, site.timeZone);
    const sheet = await makeSheet(parts, span, speaks);
    const { remake, check, mayBeInvested } = sheet.counts;
    const { response } = await transport.sendMail({
      from: parts.from,
      to: email,
      subject: speaks.text('mail-subject', {
        day: speaks.day(sheet.opens),
        remake: String(remake),
        check: String(check),
        invest: String(mayBeInvested),
      }),
      // The same sheet to the same person keeps its id, so that a mailbox can tell a repeat.
      messageId: `<night-${site.id}-${span.date}-${encodeURIComponent(person.id)}@${domain}>`,
      // Automatic answers are not wanted (RFC 3834).
      headers: { 'Auto-Submitted': 'auto-generated' },
      text: mailText(sheet, speaks),
      attachments: [
        {
          filename: `night-${span.date}.pdf`,
          content: await nightPdf(sheet, speaks, post.setting().paper),
          contentType: 'application/pdf',
        },
      ],
    });
    return response;
  };

  const tryOne = async (person: Person, email: string, span: NightSpan): Promise<void> => {
    const before = post.posted(span.date, person.id);
    const now = running.now();
    if (before?.state === 'sent' || before?.state === 'refused' || (before?.nextAt ?? 0) > now) return;
    const attempts = (before?.attempts ?? 0) + 1;
    const pause = Math.min(FIRST_PAUSE_MILLIS * 2 ** (attempts - 1), LONGEST_PAUSE_MILLIS);
    const row = { date: span.date, person: person.id, attempts, nextAt: epochMillis(now + pause) };
    post.put({ ...row, state: 'sending', at: now, detail: '' });
    try {
      post.put({ ...row, state: 'sent', at: running.now(), detail: await send(person, email, span) });
    } catch (error) {
      const detail = error instanceof Error ? error.message : String(error);
      post.put({
        ...row,
        state: isFinal(error) ? 'refused' : 'again',
        at: running.now(),
        detail,
      });
    }
  };

  const runAll = async (): Promise<void> => {
    const { time, recipients } = post.setting();
    const { site, people } = running.lab();
    const span = nightToPost(site, time, running.now());
    if (span === null) return;
    for (const person of people)
      if (!closed && recipients.includes(person.id) && person.email !== null)
        await tryOne(person, person.email, span);
  };
  let atIt: Promise<void> | null = null;
  let closed = false;
  return {
    runDue: () => {
      atIt ??= runAll().finally(() => {
        atIt = null;
      });
      return atIt;
    },
    close: async () => {
      closed = true;
      transport.close();
      await atIt?.catch(() => {});
    },
  };
};
