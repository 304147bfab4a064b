// Parts that the schemas of the interface share.

import { Type } from 'typebox';
import { Nullable } from '../../lab/nullable.ts';

/** An object with no other fields than those listed. */
export const closed = { additionalProperties: false };

export { Nullable };

export const Instant = Type.String({ format: 'date-time', description: 'ISO 8601 instant in UTC' });

/** How a pattern ended; null while it waits. */
export const Fate = Nullable(
  Type.Object({ kind: Type.String(), at: Instant, by: Type.String(), reason: Type.String() }),
);

/** An alarm of a report. */
export const alarmFacts = {
  id: Type.String(),
  rule: Type.String(),
  priority: Type.String(),
  message: Type.String(),
  raisedAt: Instant,
  clearedAt: Nullable(Instant),
  acts: Type.Array(
    Type.Object({ at: Instant, kind: Type.String(), by: Type.String(), reason: Nullable(Type.String()) }),
    { description: 'What people did, oldest first' },
  ),
};

/** Values of a code; a unit is the end of their name. */
export const Values = Type.Record(Type.String(), Type.Union([Type.Number(), Type.String()]));

/** Of what is read, to be sent back with its change. */
export const Version = Type.Integer({
  description: 'Number of the newest change on record when this was read',
});
