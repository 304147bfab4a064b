// The month sheet as it crosses the wire.

import { type Static, Type } from 'typebox';
import { AlarmQualityView } from './alarm-quality.ts';
import { Instant, Nullable } from './schema-parts.ts';

const MonthNight = Type.Object({
  date: Type.String(),
  from: Instant,
  opens: Instant,
  minCelsius: Nullable(Type.Number()),
  maxCelsius: Nullable(Type.Number()),
  meanKineticCelsius: Nullable(Type.Number()),
  swings: Type.Number(),
  largestSwingCelsius: Type.Number(),
  minutesOutOfBand: Type.Number(),
  gapMinutes: Type.Number(),
  verdict: Type.String(),
});
const MonthPlace = Type.Object({
  station: Type.String(),
  name: Type.String(),
  storageMaxCelsius: Nullable(Type.Number()),
  nights: Type.Array(MonthNight, { description: 'Oldest first' }),
  ended: Type.Integer({ description: 'Patterns that were ended in the month and lay here last' }),
  invested: Type.Integer(),
  remade: Type.Integer(),
  discarded: Type.Integer(),
  swings: Type.Number(),
  minutesOutOfBand: Type.Number(),
});
export type MonthPlace = Static<typeof MonthPlace>;

export const MonthSheet = Type.Object({
  month: Type.String(),
  lab: Type.String(),
  timeZone: Type.String(),
  isOver: Type.Boolean(),
  places: Type.Array(MonthPlace),
  remakes: Type.Array(
    Type.Object({
      id: Type.String(),
      caseReference: Type.String(),
      stationName: Nullable(Type.String({ description: 'Where it lay last' })),
      at: Instant,
      by: Type.String(),
      reason: Type.String(),
    }),
  ),
  alarms: Type.Object({
    announced: Type.Integer({ description: 'How often an alarm asked for attention' }),
    isBasis: Type.Boolean({ description: 'The span has the thirty days that the standard asks for' }),
    figures: AlarmQualityView.properties.figures,
    most: Type.Array(Type.Object({ rule: Type.String(), placeName: Type.String(), count: Type.Integer() }), {
      description: 'Most frequent first',
    }),
  }),
});
export type MonthSheet = Static<typeof MonthSheet>;

export const Month = Type.String({ pattern: '^\\d{4}-(0[1-9]|1[0-2])$', description: 'YYYY-MM' });
