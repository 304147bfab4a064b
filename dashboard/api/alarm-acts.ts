// What a person may do to an alarm, as it crosses the wire. Every act may hold a reason; those that hide an alarm must.

import { type Static, type TObject, Type } from 'typebox';
import { closed, Instant } from './schema-parts.ts';

const Reason = Type.String({ maxLength: 500, description: 'Why; kept in the history of the alarm' });
const NeededReason = Type.String({
  minLength: 1,
  maxLength: 500,
  description: 'Why; kept in the history of the alarm',
});
const MayReason = Type.Object({ reason: Type.Optional(Reason) }, closed);
const MustReason = Type.Object({ reason: NeededReason }, closed);

export const ALARM_ACT_BODIES = {
  acknowledge: Type.Object(
    {
      reason: Type.Optional(Reason),
      seenCount: Type.Optional(
        Type.Integer({
          minimum: 1,
          description: 'The `count` that was seen; refused when it was raised again since',
        }),
      ),
    },
    closed,
  ),
  reset: MayReason,
  shelve: Type.Object({ until: Instant, reason: NeededReason }, closed),
  unshelve: MayReason,
  'take-out-of-service': MustReason,
  'return-to-service': MayReason,
  note: Type.Object({ text: Type.String({ minLength: 1, maxLength: 2000 }) }, closed),
} as const satisfies Record<string, TObject>;

export type AlarmActType = keyof typeof ALARM_ACT_BODIES;
export type AlarmActBody<Kind extends AlarmActType> = Static<(typeof ALARM_ACT_BODIES)[Kind]>;
