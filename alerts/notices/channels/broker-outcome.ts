// What the answer of a broker makes of a message: delivered when it confirms that, a failure when nobody has subscribed.

import type { BrokerAnswer } from '../../../lab/broker-answer.ts';
import type { SendOutcome } from '../outbox/outbox-row.ts';
import { sendAnswer } from '../outbox/send-answer.ts';

/** To the lab's broker, not retained; returns its answer. */
export type Deliver = (topic: string, payload: string) => Promise<BrokerAnswer>;

/** Longer than a broker on the lab's network takes; after it the message is sent again, marked as a repeat. */
const TIMEOUT_MILLIS = 10_000;

const RECEIVER_CODES = {
  some: 'broker-delivered',
  unknown: 'handed-to-broker',
  none: 'nobody-subscribed',
} as const;

/** @param needsReceiver whether it is a failure that nobody has subscribed */
export function brokerOutcome(answer: BrokerAnswer, needsReceiver: boolean): SendOutcome {
  switch (answer.kind) {
    case 'away':
      return { kind: 'retry', answer: sendAnswer('broker-away'), retryAfterMillis: null };
    case 'refused':
      return { kind: 'refused', answer: sendAnswer('broker-refused', { reason: answer.reason }) };
    case 'taken': {
      const said = sendAnswer(RECEIVER_CODES[answer.receivers]);
      return answer.receivers === 'none' && needsReceiver
        ? { kind: 'retry', answer: said, retryAfterMillis: null }
        : { kind: 'delivered', answer: said };
    }
  }
}

export const deliverInTime = (deliver: Deliver, topic: string, payload: string): Promise<BrokerAnswer> =>
  new Promise((resolve) => {
    const timer = setTimeout(() => resolve({ kind: 'away' }), TIMEOUT_MILLIS);
    void deliver(topic, payload).then((answer) => {
      clearTimeout(timer);
      resolve(answer);
    });
  });
