// Who is told, phones and the outbox, as they cross the wire.

import { type Static, Type } from 'typebox';
import { CHANNELS, OUTBOX_STATES } from '../../alerts/notices/outbox/outbox-row.ts';
import { MAIL_WHEN, ROLES } from '../../lab/person.ts';
import {
  ClockTime,
  RotaSchema,
  NOTIFICATION_PLAN_LISTS,
  WEBHOOK_FIELDS,
  WebhookTemplate,
} from '../../lab/notification-plan-schema.ts';
import { Instant } from './schemas.ts';

const closed = { additionalProperties: false };
const Nullable = <T extends Parameters<typeof Type.Union>[0][number]>(schema: T) =>
  Type.Union([schema, Type.Null()]);

export const TellingBody = Type.Object(
  {
    rota: Nullable(RotaSchema),
    ...NOTIFICATION_PLAN_LISTS,
    heartbeatAt: Nullable(ClockTime),
    webhooks: Type.Array(Type.Object({ ...WEBHOOK_FIELDS, template: Nullable(WebhookTemplate) }, closed), {
      maxItems: 20,
    }),
  },
  closed,
);
export type TellingBody = Static<typeof TellingBody>;

/** How a person of the lab can be reached; the address itself is for managers. */
const ReachView = Type.Object({
  id: Type.String(),
  name: Type.String(),
  role: Type.Enum([...ROLES]),
  phones: Type.Integer({ description: 'How many phones ring for this person' }),
  phoneTestedAt: Nullable(Instant),
  hasEmail: Type.Boolean(),
  email: Nullable(Type.String({ description: 'Managers only' })),
  mail: Type.Enum([...MAIL_WHEN]),
  morningHeartbeat: Type.Boolean(),
});
export type ReachView = Static<typeof ReachView>;

export const TellingView = Type.Object({
  plan: TellingBody,
  /** False: the plan is what holds until the lab makes its own. */
  isOwn: Type.Boolean(),
  onDuty: Type.Array(Type.String(), { description: 'Ids of who is told first, now' }),
  /** Null: nothing in the plan changes who is. */
  dutyEndsAt: Nullable(Instant),
  people: Type.Array(ReachView),
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
