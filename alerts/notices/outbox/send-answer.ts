// What a receiver answered about a line of the outbox: a code with values. Sentences are made where it is read.

import { reasonOf } from '../../../wax/problem-error.ts';
import type { Values } from '../../../words/quantity.ts';

export const SEND_ANSWER_CODES = [
  'answered',
  'broker-away',
  'broker-delivered',
  'broker-refused',
  'handed-to-broker',
  'nobody-subscribed',
  'push-accepted',
  'push-busy',
  'push-refused',
  'push-too-long',
  'phone-unsubscribed',
  'phone-unknown',
  'person-left',
  'no-address',
  'no-mail-server',
  'webhook-removed',
  'webhook-address-closed',
  'grouped',
  'replaced',
  'settled',
  /** A mail server or the network in words of its own. */
  'own-words',
] as const;
export type SendAnswerCode = (typeof SEND_ANSWER_CODES)[number];

export interface SendAnswer {
  readonly code: SendAnswerCode;
  readonly values: Values;
}

export const sendAnswer = (code: SendAnswerCode, values: Values = {}): SendAnswer => ({ code, values });
export const ownWords = (text: string): SendAnswer => sendAnswer('own-words', { text });
export const errorAnswer = (error: unknown): SendAnswer => ownWords(reasonOf(error));

const isCode = (code: unknown): code is SendAnswerCode =>
  (SEND_ANSWER_CODES as readonly unknown[]).includes(code);

/** From the column of a row; sentences that earlier versions stored are shown as they are. */
export const readSendAnswer = (text: string): SendAnswer | null => {
  if (text === '') return null;
  if (!text.startsWith('{')) return ownWords(text);
  try {
    const { code, values } = JSON.parse(text) as Partial<SendAnswer>;
    return isCode(code) ? sendAnswer(code, values) : ownWords(text);
  } catch {
    return ownWords(text);
  }
};
