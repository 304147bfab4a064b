// Gateways and their pairing with the embedded broker, as they cross the wire.

import { type Static, Type } from 'typebox';
import { closed, Instant, Nullable } from './schema-parts.ts';

export const GatewayView = Type.Object({
  gateway: Type.String(),
  pairedAt: Nullable(Instant),
  online: Nullable(Type.Boolean()),
  reportedAt: Nullable(Instant),
  lastReadingAt: Nullable(Instant),
  probes: Type.Integer({ description: 'Of the lab or seen' }),
  unclaimed: Type.Integer({ description: 'Of them without a station, and not retired' }),
  sweeps: Nullable(
    Type.Object({
      newest: Type.Integer({ description: 'Number of the newest sweep' }),
      missing: Type.Integer({ description: 'Sweeps before it that have not arrived' }),
    }),
  ),
  clockLag_seconds: Nullable(Type.Number({ description: 'How far its clock is behind; negative: ahead' })),
});
export type GatewayView = Static<typeof GatewayView>;

export const PairingCodeBody = Type.Object(
  { gateway: Type.String({ minLength: 1, maxLength: 64, description: 'Id of the gateway' }) },
  closed,
);

export const PairingCodeView = Type.Object({
  gateway: Type.String(),
  code: Type.String({ description: 'Serves once' }),
  expiresAt: Type.String({ format: 'date-time' }),
});
export type PairingCodeView = Static<typeof PairingCodeView>;

export const PairBody = Type.Object({ code: Type.String({ minLength: 1, maxLength: 40 }) }, closed);

export const PairingView = Type.Object({
  site: Type.String(),
  gateway: Type.String(),
  user: Type.String(),
  password: Type.String({ description: 'Shown this once' }),
  host: Type.String({ description: 'Where the broker listens' }),
  port: Type.Integer(),
  tls: Type.Boolean({ description: 'By TLS alone' }),
  topic: Type.String({ description: 'What every topic of the gateway begins with' }),
});
