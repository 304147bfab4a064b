// Who is told, phones and the outbox, as they cross the wire.

import { type Static, Type } from 'typebox';
import { CHANNELS, OUTBOX_STATES } from '../../alerts/outbox/outbox-row.ts';
import { TOLD_GROUPS, TOLD_PRIORITIES } from '../../lab/telling.ts';
import { Instant } from './schemas.ts';

const closed = { additionalProperties: false };
const Nullable = <T extends Parameters<typeof Type.Union>[0][number]>(schema: T) =>
  Type.Union([schema, Type.Null()]);
const PersonId = Type.String({ minLength: 1, maxLength: 64 });
const Day = Type.String({ pattern: '^\\d{4}-\\d{2}-\\d{2}$', description: 'YYYY-MM-DD' });
const ClockTime = Type.String({
  pattern: '^([01]\\d|2[0-3]):[0-5]\\d$',
  description: "HH:MM in the lab's zone",
});

export const TellingBody = Type.Object(
  {
    rota: Nullable(
      Type.Object(
        {
          people: Type.Array(PersonId, { minItems: 1, maxItems: 50 }),
          startsOn: {
            ...Day,
            description: 'The first turn begins then; its weekday is that of every handover',
          },
          handoverTime: ClockTime,
        },
        closed,
      ),
    ),
    absences: Type.Array(Type.Object({ person: PersonId, from: Day, to: Day }, closed), { maxItems: 200 }),
    escalation: Type.Array(
      Type.Object(
        {
          afterMinutes: Type.Integer({ minimum: 0, maximum: 1440 }),
          who: Type.Enum([...TOLD_GROUPS]),
        },
        closed,
      ),
      { minItems: 1, maxItems: 10 },
    ),
    outsideHours: Type.Array(Type.Enum([...TOLD_PRIORITIES]), { uniqueItems: true }),
    heartbeatAt: Nullable(ClockTime),
    webhooks: Type.Array(
      Type.Object(
        {
          id: Type.String({ pattern: '^[a-z0-9-]{1,40}$' }),
          name: Type.String({ minLength: 1, maxLength: 80 }),
          url: Type.String({ maxLength: 500, pattern: '^https?://' }),
          template: Nullable(Type.String({ maxLength: 4000 })),
        },
        closed,
      ),
      { maxItems: 20 },
    ),
    lampTopics: Type.Array(Type.String({ pattern: '^[^+#\\s]{1,200}$' }), {
      maxItems: 20,
      uniqueItems: true,
    }),
  },
  closed,
);
export type TellingBody = Static<typeof TellingBody>;

export const TellingView = Type.Object({
  plan: TellingBody,
  /** False: the plan is what holds until the lab makes its own. */
  isOwn: Type.Boolean(),
  onDuty: Type.Array(Type.String(), { description: 'Ids of who is told first, now' }),
  mailIsSetUp: Type.Boolean(),
  secrets: Type.Record(Type.String(), Type.String(), {
    description: 'Of each webhook, for its receiver; managers only',
  }),
});
export type TellingView = Static<typeof TellingView>;

export const PushKeyView = Type.Object({
  key: Type.String({ description: 'Public key of this server for `pushManager.subscribe` (RFC 8292)' }),
});
export type PushKeyView = Static<typeof PushKeyView>;

const Endpoint = Type.String({ maxLength: 1000, description: 'As the browser gives it' });
export const SubscriptionBody = Type.Object(
  {
    endpoint: Endpoint,
    keys: Type.Object(
      {
        p256dh: Type.String({ pattern: '^[A-Za-z0-9_-]{87}=?$' }),
        auth: Type.String({ pattern: '^[A-Za-z0-9_-]{22}(==)?$' }),
      },
      closed,
    ),
    name: Type.Optional(Type.String({ maxLength: 80, description: 'What the phone is called in lists' })),
    /** The endpoint that this one takes the place of. */
    replaces: Type.Optional(Endpoint),
  },
  closed,
);
export const EndpointBody = Type.Object({ endpoint: Endpoint }, closed);
export const ShownBody = Type.Object({ test: Type.String({ maxLength: 1000 }) }, closed);

export const SubscriptionView = Type.Object({
  id: Type.String(),
  name: Type.String(),
  endpoint: Type.String(),
  madeAt: Instant,
  testedAt: Nullable(Instant),
});
export type SubscriptionView = Static<typeof SubscriptionView>;

export const LinkBody = Type.Object(
  {
    token: Type.String({ maxLength: 2000 }),
    alarm: Type.Optional(Type.String({ maxLength: 300, description: 'Must be the alarm of the token' })),
  },
  closed,
);
export const LinkView = Type.Object({ alarm: Type.String(), acknowledgedBy: Nullable(Type.String()) });

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
  detail: Type.String(),
});
export const OutboxView = Type.Object({
  counts: Type.Record(Type.String(), Type.Integer()),
  rows: Type.Array(OutboxRowView),
});
