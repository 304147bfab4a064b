// The question what other figures of a rule would have raised, and its answer.

import { type Static, Type } from 'typebox';
import { Instant } from './schema-parts.ts';

export const TrialBody = Type.Object(
  {
    rule: Type.String({ maxLength: 64 }),
    values: Type.Record(Type.String(), Type.Number(), {
      description: 'Figures of the rule by name; those left out keep their defaults',
    }),
  },
  { additionalProperties: false },
);

export const TrialView = Type.Object({
  days: Type.Integer({ description: 'How far back it looked' }),
  minutes: Type.Integer({
    description: 'Readings, one a minute and probe; 0: there is nothing to look back on',
  }),
  before: Type.Integer({ description: 'How often the rule began with the present figures' }),
  after: Type.Integer({ description: 'How often it would have begun' }),
  beginnings: Type.Array(Instant, {
    description: 'When it would have begun; the newest hundred, oldest first',
  }),
});
export type TrialView = Static<typeof TrialView>;
