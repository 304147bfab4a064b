// A notice to a phone by Web Push (RFC 8030, 8291, 8292): urgent, short-lived, one topic an alarm, so that the newest
// word replaces an older one that the phone has not had. Its answer determines what happens next.

import { createHash } from 'node:crypto';
import type { Agent } from 'node:https';
import webPush from 'web-push';
import type { EpochMillis } from '../../../wax/units.ts';
import { isCall } from '../outbox/lane.ts';
import type { OutboxMessage, SendOutcome } from '../outbox/outbox-row.ts';
import { retryAfterMillis } from '../outbox/retry.ts';
import type { Send } from '../outbox/runner.ts';
import { errorAnswer, sendAnswer } from '../outbox/send-answer.ts';
import { type NoticeText, partsOf } from '../texts/notice-parts.ts';
import type { NoticeKeys } from './notice-keys.ts';
import type { PushPayload } from './push-payload.ts';
import type { Subscriptions } from './subscriptions.ts';

/** Plaintext that fits a body of 4096 bytes: less 86 of header, 16 of tag and 1 of padding (RFC 8291, 4). */
export const LONGEST_PAYLOAD_BYTES = 3993;
const TIMEOUT_MILLIS = 10_000;
const TTL_SECONDS = { least: 300, most: 900 } as const;

export interface PushWords {
  readonly text: NoticeText;
  readonly acknowledge: NonNullable<PushPayload['acknowledge']> | null;
}

export interface PushParts {
  readonly keys: NoticeKeys;
  /** `mailto:` or `https:`, the contact for push services; looked up at each send. */
  readonly contact: () => string;
  readonly subscriptions: Subscriptions;
  /** Null when the person has left the lab. */
  readonly words: (message: OutboxMessage) => PushWords | null;
  readonly now: () => EpochMillis;
  readonly agent?: Agent;
}

/** 24 bytes of a hash make the 32 characters that a topic may have (RFC 8030, 5.4). */
export const pushTopic = (topic: string): string =>
  createHash('sha256').update(topic).digest().subarray(0, 24).toString('base64url');

/** Cuts the body, never the token, until it fits. */
export function fitPayload(payload: PushPayload, most: number = LONGEST_PAYLOAD_BYTES): string {
  let text = JSON.stringify(payload);
  let body = payload.body;
  while (Buffer.byteLength(text) > most && body.length > 0) {
    const over = Buffer.byteLength(text) - most;
    body = body.slice(0, Math.max(0, body.length - Math.max(8, Math.ceil(over / 4))));
    text = JSON.stringify({ ...payload, body: `${body}…` });
  }
  return text;
}

export function pushSender(parts: PushParts): Send {
  const sendOnce = async (
    { rows: [row] }: OutboxMessage,
    payload: PushPayload,
    most: number,
  ): Promise<SendOutcome> => {
    const subscription = parts.subscriptions.find(row.address);
    if (subscription === null) return { kind: 'gone', answer: sendAnswer('phone-unknown') };
    const left = Math.floor((row.expiresAt - parts.now()) / 1000);
    try {
      const { statusCode } = await webPush.sendNotification(
        { endpoint: subscription.endpoint, keys: { ...subscription.keys } },
        fitPayload(payload, most),
        {
          vapidDetails: { subject: parts.contact(), ...parts.keys.push },
          TTL: Math.min(Math.max(left, TTL_SECONDS.least), TTL_SECONDS.most),
          urgency: payload.stays || row.kind === 'test' ? 'high' : 'normal',
          topic: pushTopic(payload.tag),
          timeout: TIMEOUT_MILLIS,
          contentEncoding: 'aes128gcm',
          ...(parts.agent !== undefined && { agent: parts.agent }),
        },
      );
      return { kind: 'delivered', answer: sendAnswer('push-accepted', { status: statusCode }) };
    } catch (error) {
      if (!(error instanceof webPush.WebPushError))
        return { kind: 'retry', answer: errorAnswer(error), retryAfterMillis: null };
      return answerOf(error.statusCode, error.headers as Readonly<Record<string, string>>, parts.now());
    }
  };
  return async (message) => {
    const words = parts.words(message);
    if (words === null) return { kind: 'gone', answer: sendAnswer('person-left') };
    const { rows, tag, replaces } = message;
    const { text, acknowledge } = words;
    const kind = (rows.find((row) => isCall(row.kind)) ?? rows[0]).kind;
    const test = rows[0].body.test;
    const payload: PushPayload = {
      kind,
      title: text.title,
      body: partsOf(text).join('\n'),
      tag,
      url: '/phone',
      // Where others of the message still call, it goes on calling.
      stays: isCall(kind) || acknowledge !== null,
      ...(replaces.length > 0 && { replaces }),
      ...(acknowledge !== null && { acknowledge }),
      ...(test !== undefined && { test }),
      ...(rows.some(({ isRepeat }) => isRepeat) && { repeat: true }),
    };
    const outcome = await sendOnce(message, payload, LONGEST_PAYLOAD_BYTES);
    // A service may take less than the standard's least (413): the short form, once.
    return outcome.kind === 'refused' && outcome.answer.code === 'push-too-long'
      ? sendOnce(message, { ...payload, body: payload.body.slice(0, 120) }, 1024)
      : outcome;
  };
}

/** RFC 8030, 7.3 and 8.4; 410 for unsubscribed phones is the practice of push services. */
function answerOf(status: number, headers: Readonly<Record<string, string>>, now: EpochMillis): SendOutcome {
  if (status === 404 || status === 410)
    return { kind: 'gone', answer: sendAnswer('phone-unsubscribed', { status }) };
  if (status === 413) return { kind: 'refused', answer: sendAnswer('push-too-long', { status }) };
  if (status === 429 || status >= 500)
    return {
      kind: 'retry',
      answer: sendAnswer('push-busy', { status }),
      retryAfterMillis: retryAfterMillis(headers['retry-after'], now),
    };
  return { kind: 'refused', answer: sendAnswer('push-refused', { status }) };
}
