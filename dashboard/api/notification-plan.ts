// Who is notified of alarms, as it crosses the wire.

import { type Static, Type } from 'typebox';
import { MAIL_WHEN, ROLES } from '../../lab/person.ts';
import {
  ClockTime,
  RotaSchema,
  NOTIFICATION_PLAN_LISTS,
  WEBHOOK_FIELDS,
  WebhookTemplate,
} from '../../lab/lab-file/notification-plan-schema.ts';
import { closed, Instant, Nullable, Version } from './schema-parts.ts';

export const NotificationPlanBody = Type.Object(
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
export type NotificationPlanBody = Static<typeof NotificationPlanBody>;

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

export const NotificationPlanView = Type.Object({
  version: Version,
  plan: NotificationPlanBody,
  /** False: the plan is what holds until the lab makes its own. */
  isOwn: Type.Boolean(),
  onDuty: Type.Array(Type.String(), { description: 'Ids of who is notified first, now' }),
  /** Null: nothing in the plan changes who is. */
  dutyEndsAt: Nullable(Instant),
  people: Type.Array(ReachView),
  mailIsSetUp: Type.Boolean(),
  secrets: Type.Record(Type.String(), Type.String(), {
    description: 'Of each webhook, for its receiver; managers only',
  }),
  changeSecret: Nullable(
    Type.String({ description: 'By which changes on MQTT are signed; managers only, else null' }),
  ),
});
export type NotificationPlanView = Static<typeof NotificationPlanView>;

/** Routes other than a phone's; that is tested from the phone itself. */
const TESTED_CHANNELS = ['mail', 'webhook', 'lamp', 'mqtt'] as const;

export const RouteTestBody = Type.Object(
  {
    channel: Type.Enum([...TESTED_CHANNELS]),
    address: Type.String({
      maxLength: 300,
      description: 'Id of the webhook or topic of the lamp, as the saved plan has them; empty for others',
    }),
  },
  closed,
);
export type RouteTestBody = Static<typeof RouteTestBody>;

export const RouteTestView = Type.Object({
  number: Type.Integer({ description: 'Of its row in the delivery log, where its outcome is' }),
});
