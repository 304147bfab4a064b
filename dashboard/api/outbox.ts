// What was sent, to whom, and what waits, as it crosses the wire.

import { type Static, Type } from 'typebox';
import { CHANNELS, OUTBOX_STATES } from '../../alerts/notices/outbox/outbox-row.ts';
import { Instant, Nullable } from './schema-parts.ts';
import { SendAnswerView } from './send-answer.ts';

const OutboxRowView = Type.Object({
  number: Type.Integer(),
  channel: Type.Enum([...CHANNELS]),
  /** The person, the webhook or the topic; never a phone's endpoint. */
  to: Type.String(),
  kind: Type.String(),
  alarm: Nullable(Type.String()),
  state: Type.Enum([...OUTBOX_STATES]),
  attempts: Type.Integer(),
  at: Instant,
  nextAt: Nullable(Instant),
  endedAt: Nullable(Instant),
  isRepeat: Type.Boolean(),
  answer: SendAnswerView,
  detail: Type.String({ description: 'The answer in English, for programs' }),
});
export type OutboxRowView = Static<typeof OutboxRowView>;

export const OutboxView = Type.Object({
  counts: Type.Record(Type.String(), Type.Integer()),
  rows: Type.Array(OutboxRowView),
});
