// Parts that the schemas of the interface share.

import { Type } from 'typebox';

/** An object with no other fields than those listed. */
export const closed = { additionalProperties: false };

export const Nullable = <T extends Parameters<typeof Type.Union>[0][number]>(schema: T) =>
  Type.Union([schema, Type.Null()]);

export const Instant = Type.String({ format: 'date-time', description: 'ISO 8601 instant in UTC' });

/** Of what is read, to be sent back with its change. */
export const Version = Type.Integer({
  description: 'Number of the newest change on record when this was read',
});
