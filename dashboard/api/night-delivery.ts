// To whom the night sheet goes by e-mail, and when, as it crosses the wire.

import { type Static, Type } from 'typebox';
import { Instant } from './schema-parts.ts';
import { SendAnswerView } from './send-answer.ts';

export const NightDelivery = Type.Object(
  {
    time: Type.String({
      pattern: '^(off|opening|([01]\\d|2[0-3]):[0-5]\\d)$',
      description: '`off`, `opening`, or a time of the lab’s clock as HH:MM; never before the opening',
    }),
    recipients: Type.Array(Type.String({ minLength: 1, maxLength: 64 }), {
      maxItems: 50,
      uniqueItems: true,
      description: 'Ids of people; those without an e-mail address get none',
    }),
    paper: Type.Enum(['a4', 'letter']),
  },
  { additionalProperties: false },
);
export type NightDelivery = Static<typeof NightDelivery>;

export const NightDeliveryView = Type.Object({
  time: Type.String(),
  recipients: Type.Array(Type.String()),
  paper: Type.Enum(['a4', 'letter']),
  sent: Type.Array(
    Type.Object({
      date: Type.String(),
      person: Type.String(),
      state: Type.String({ description: '`sent`, `again` (tried again), `sending`, `refused`' }),
      attempts: Type.Integer(),
      at: Instant,
      answer: SendAnswerView,
      detail: Type.String({ description: 'The answer in English, for programs' }),
    }),
    { description: 'Newest night first' },
  ),
});
export type NightDeliveryView = Static<typeof NightDeliveryView>;
