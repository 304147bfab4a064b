// Who was shown which procedure, when and by whom, as it crosses the wire.

import { type Static, Type } from 'typebox';
import { closed, Instant, Nullable } from './schema-parts.ts';

export const TrainingView = Type.Object({
  number: Type.Integer(),
  person: Type.String({ description: 'Name at the time' }),
  procedure: Type.String(),
  edition: Nullable(Type.String({ description: 'Of the written procedure' })),
  day: Type.String({ description: 'YYYY-MM-DD' }),
  shownBy: Type.String({ description: 'Whoever signed the record' }),
  at: Type.String({ format: 'date-time', description: 'When it was written down' }),
  withdrawn: Nullable(Type.Object({ by: Type.String(), at: Instant, reason: Type.String() })),
});
export type TrainingView = Static<typeof TrainingView>;

export const TrainingList = Type.Object({
  people: Type.Array(Type.Object({ id: Type.String(), name: Type.String() }), {
    description: 'Who can be shown something',
  }),
  records: Type.Array(TrainingView, { description: 'Newest day first' }),
});
export type TrainingList = Static<typeof TrainingList>;

export const TrainingBody = Type.Object(
  {
    person: Type.String({ maxLength: 64, description: 'Id of the person who was shown it' }),
    procedure: Type.String({ minLength: 1, maxLength: 200, pattern: '\\S' }),
    edition: Type.Optional(Type.String({ maxLength: 60 })),
    day: Type.String({ pattern: '^\\d{4}-\\d{2}-\\d{2}$', description: 'YYYY-MM-DD; not ahead' }),
  },
  closed,
);
export const WithdrawTrainingBody = Type.Object(
  { reason: Type.String({ minLength: 1, maxLength: 300, pattern: '\\S' }) },
  closed,
);
