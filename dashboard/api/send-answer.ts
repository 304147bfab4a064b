// What a receiver answered, as it crosses the wire: a code with values.

import { Type } from 'typebox';
import { SEND_ANSWER_CODES } from '../../alerts/notices/outbox/send-answer.ts';

export const SendAnswerView = Type.Union(
  [
    Type.Object({
      code: Type.Enum([...SEND_ANSWER_CODES]),
      values: Type.Record(Type.String(), Type.Union([Type.String(), Type.Number()])),
    }),
    Type.Null(),
  ],
  { description: 'The last answer; `own-words` is a mail server or the network in words of its own' },
);
