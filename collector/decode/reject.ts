// Makes rejections of a message.

import type { Problem } from '../../wax/result.ts';
import type { Message } from './message.ts';
import { type Rejection, SAMPLE_BYTES } from './rejection.ts';

/** The message as a whole, with the reason; the sample is a copy, so that a large message can be forgotten. */
export const reject = (message: Message, problem: Problem): Rejection => ({
  topic: message.topic,
  code: problem.code,
  ...(problem.values !== undefined && { values: problem.values }),
  ...(problem.offending !== undefined && { offending: problem.offending }),
  at: message.receivedAt,
  sample: message.payload.slice(0, SAMPLE_BYTES),
  bytes: message.payload.length,
});
