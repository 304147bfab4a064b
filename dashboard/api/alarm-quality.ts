// The figures of alarm quality as they cross the wire: each with its target and where the target comes from.

import { type Static, Type } from 'typebox';
import { Figure, SourceView } from './figures.ts';
import { Instant, Nullable } from './schema-parts.ts';

export const AlarmQualityView = Type.Object({
  from: Instant,
  to: Instant,
  days: Type.Number(),
  isBasis: Type.Boolean({ description: 'The span has the thirty days that the standard asks for' }),
  isWhole: Type.Boolean({ description: 'False: there were more changes than can be counted at once' }),
  announced: Type.Integer({ description: 'How often an alarm asked for attention' }),
  figures: Type.Array(
    Type.Object({
      name: Type.String(),
      value: Nullable(Type.Number()),
      unit: Type.Union([Type.Literal('count'), Type.Literal('share'), Type.Literal('seconds')]),
      atMost: Nullable(Type.Number(), { description: 'The target; null: shown without one' }),
      holds: Nullable(Type.Boolean()),
      standing: Figure.properties.standing,
      source: SourceView,
    }),
  ),
  daily: Type.Array(Type.Object({ date: Type.String(), count: Type.Integer() })),
  busiest: Type.Object({ shift: Type.Integer(), hour: Type.Integer(), tenMinutes: Type.Integer() }),
  floods: Type.Array(Type.Object({ from: Instant, to: Instant, count: Type.Integer() })),
  contributors: Type.Array(
    Type.Object({
      rule: Type.String(),
      subject: Type.String(),
      subjectName: Type.String({
        description: 'Name of the station, case of the pattern; the id where there is neither',
      }),
      count: Type.Integer(),
      share: Type.Number(),
      chattering: Type.Integer(),
      fleeting: Type.Integer(),
      stale: Type.Integer(),
    }),
  ),
  hidden: Type.Array(
    Type.Object({
      at: Instant,
      kind: Type.Union([Type.Literal('shelved'), Type.Literal('out-of-service')]),
      rule: Type.String(),
      subject: Type.String(),
      subjectName: Type.String(),
      by: Nullable(Type.String()),
      reason: Nullable(Type.String()),
    }),
  ),
});
export type AlarmQualityView = Static<typeof AlarmQualityView>;
