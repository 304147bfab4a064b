// Phones that get notifications, and the link by which a notification acknowledges, as they cross the wire.

import { type Static, Type } from 'typebox';
import { closed, Instant, Nullable } from './schema-parts.ts';

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
