// The last answer about a line of the outbox in the reader's words. What a mail server or the network said in words
// of its own is shown as it came.

import type { Values } from '../../../../../words/quantity.ts';
import type { MessageKey } from '../../../base/messages.ts';

const KNOWN: readonly (readonly [RegExp, MessageKey])[] = [
  [/^answered (?<status>\d+)$/, 'outbox.answered'],
  [/^given to the broker$/, 'outbox.given-to-broker'],
  [/^the push service took it \((?<status>\d+)\)$/, 'outbox.push-took'],
  [/^the push service asks to wait or fails \((?<status>\d+)\)$/, 'outbox.push-waits'],
  [/^the push service refuses the sender \((?<status>\d+)\); .*$/, 'outbox.push-refuses'],
  [/^the push service finds it too long \((?<status>\d+)\)$/, 'outbox.push-too-long'],
  [/^the phone unsubscribed or was reset \((?<status>\d+)\)$/, 'outbox.phone-gone'],
  [/^this phone is subscribed no more$/, 'outbox.phone-no-more'],
  [/^the person is no more$/, 'outbox.person-no-more'],
  [/^the person has no e-mail address$/, 'outbox.no-address'],
  [/^no mail server is set$/, 'outbox.no-mail-server'],
  [/^the webhook was taken out$/, 'outbox.webhook-out'],
  [/^told in one with others$/, 'outbox.in-one'],
  [/^replaced by a newer notice$/, 'outbox.replaced'],
];

export interface AnswerWords {
  readonly key: MessageKey;
  readonly places: Values;
}

/** Null for words that are nobody's here. */
export const answerWords = (detail: string): AnswerWords | null => {
  for (const [shape, key] of KNOWN) {
    const found = shape.exec(detail);
    if (found !== null) return { key, places: { ...found.groups } };
  }
  return null;
};
