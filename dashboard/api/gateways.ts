// Pairing of gateways with the embedded broker, as it crosses the wire.

import { Type } from 'typebox';

const closed = { additionalProperties: false } as const;

export const PairedGatewayView = Type.Object({
  gateway: Type.String(),
  pairedAt: Type.String({ format: 'date-time' }),
});

export const PairingCodeBody = Type.Object(
  { gateway: Type.String({ minLength: 1, maxLength: 64, description: 'Id of the gateway' }) },
  closed,
);

export const PairingCodeView = Type.Object({
  gateway: Type.String(),
  code: Type.String({ description: 'Serves once' }),
  expiresAt: Type.String({ format: 'date-time' }),
});

export const PairBody = Type.Object({ code: Type.String({ minLength: 1, maxLength: 40 }) }, closed);

export const PairingView = Type.Object({
  site: Type.String(),
  gateway: Type.String(),
  user: Type.String(),
  password: Type.String({ description: 'Shown this once' }),
  host: Type.String({ description: 'Where the broker listens' }),
  port: Type.Integer(),
  topic: Type.String({ description: 'What every topic of the gateway begins with' }),
});
