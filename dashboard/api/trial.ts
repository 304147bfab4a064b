// The question what other figures of a rule would have raised, and its answer.

import { type Static, Type } from 'typebox';
import { Instant, Nullable } from './schema-parts.ts';

export const TrialBody = Type.Object(
  {
    rule: Type.String({ maxLength: 64 }),
    values: Type.Record(Type.String(), Type.Number(), {
      description: 'Figures of the rule by name; those left out keep their defaults',
    }),
    every_station_of_kind: Type.Optional(
      Type.Boolean({ description: 'True: at every station of the same kind at once; else at this one' }),
    ),
  },
  { additionalProperties: false },
);

const count = (description: string) => Type.Integer({ description });

const Recorded = Nullable(Type.Integer(), {
  description: 'How often it was really raised in that time; null for rules that raise no alarm',
});

export const TrialView = Type.Object({
  days: count('How far back it looked: thirty, or as many as some 400,000 readings reach'),
  readings: count('Readings that were replayed; 0: there is nothing to look back on'),
  recorded: Recorded,
  before: count('How often the replay raises it with the present figures'),
  after: count('How often with those of the question'),
  earlier: count('Of those that both raise: earlier than with the present figures'),
  later: count('Of those that both raise: later'),
  more: count('Raised with those of the question only'),
  fewer: count('Raised with the present figures only'),
  beginnings: Type.Array(Instant, {
    description: 'When it would have been raised; the newest hundred, oldest first',
  }),
  stations: Type.Array(
    Type.Object({
      station: Type.String(),
      recorded: Recorded,
      before: Type.Integer(),
      after: Type.Integer(),
    }),
    { description: 'The same by station' },
  ),
});
export type TrialView = Static<typeof TrialView>;
