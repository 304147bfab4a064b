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

const HeaterMonth = Type.Object({
  station: Type.String(),
  name: Type.String(),
  closedMinutes: Type.Number({ description: 'In which the lab was closed' }),
  unseenMinutes: Type.Number({ description: 'Of those, in which nothing was measured' }),
  onMinutes: Type.Number({
    description: 'Of those, in which it was at its working temperature, late work and preheating included',
  }),
  kilowattHours: Nullable(
    Type.Number({ description: 'Drawn in those; null where the lab has not said what the heater draws' }),
  ),
  doseHours: Nullable(
    Type.Number({ description: 'Equivalent hours that its wax took while the lab was closed' }),
  ),
  sparedDoseHours: Nullable(
    Type.Number({
      description: 'Equivalent hours that it would have taken besides, had it stayed on as in working hours',
    }),
  ),
});
export type HeaterMonth = Static<typeof HeaterMonth>;

export const MonthSheet = Type.Object({
  month: Type.String(),
  lab: Type.String(),
  timeZone: Type.String(),
  isOver: Type.Boolean(),
  asOf: { ...Instant, description: 'The end of the month, or now: the figures are those up to then' },
  hoursKnown: Type.Boolean({ description: 'False where the usual night stands for working hours' }),
  places: Type.Array(MonthPlace),
  heaters: Type.Array(HeaterMonth),
  remakeCost: Type.Object(
    {
      price: Nullable(Type.Number({ description: "In the lab's own currency" })),
      minutes: Nullable(Type.Number({ description: 'Of work' })),
    },
    { description: 'Of all remakes of the month; null where the lab has set no value for one' },
  ),
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
