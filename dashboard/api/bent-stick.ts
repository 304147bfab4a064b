// The lab's own bent-stick test as it crosses the wire: readings in, fitted values with errors, verdict and curves out.

import { type Static, Type } from 'typebox';
import { CALIBRATION_DOUBTS } from '../../wax/relaxation/calibration-verdict.ts';
import { closed } from './schema-parts.ts';

const MOST_STICKS = 8;
const MOST_OPENINGS = 80;

export const BentStickBody = Type.Object(
  {
    sticks: Type.Array(
      Type.Object(
        {
          celsius: Type.Number({ description: 'Where the stick lay, °C' }),
          openings: Type.Array(
            Type.Object(
              {
                hours: Type.Number({ description: 'Since the stick was let go' }),
                millimetres: Type.Number({ description: 'How far it has opened since then' }),
              },
              closed,
            ),
            { maxItems: MOST_OPENINGS },
          ),
        },
        closed,
      ),
      { maxItems: MOST_STICKS },
    ),
    readingError: Type.Optional(
      Type.Number({ description: 'Standard deviation of one reading, mm, where it is known' }),
    ),
    apply: Type.Optional(
      Type.Boolean({
        description: "Put the fitted values in as the lab's own; refused unless they are fixed",
      }),
    ),
    reason: Type.Optional(Type.String({ maxLength: 500, description: 'Why; kept in the audit trail' })),
  },
  closed,
);
export type BentStickBody = Static<typeof BentStickBody>;

const Fitted = Type.Object({
  value: Type.Number(),
  standardError: Type.Number(),
  low: Type.Number({ description: 'Lower end of the 95 % interval' }),
  high: Type.Number({ description: 'Upper end of the 95 % interval' }),
});
export type Fitted = Static<typeof Fitted>;

export const BentStickView = Type.Object({
  verdict: Type.Enum(['fixed', 'not-fixed']),
  doubts: Type.Array(Type.Enum([...CALIBRATION_DOUBTS]), {
    description: 'Why the readings do not fix the values; empty when they do',
  }),
  applied: Type.Boolean(),
  referenceCelsius: Type.Number({ description: 'Temperature at which the time constant holds' }),
  finalOpeningMillimetres: Fitted,
  tauHours: Fitted,
  beta: Fitted,
  activationEnergyKilojoules: Fitted,
  scatterMillimetres: Type.Number({ description: 'Standard deviation of a reading about its curve' }),
  degreesOfFreedom: Type.Integer(),
  residuals: Type.Array(
    Type.Object({
      stick: Type.Integer({ description: 'From 1, in the order they were sent' }),
      hours: Type.Number(),
      measured: Type.Number({ description: 'mm' }),
      fitted: Type.Number({ description: 'mm' }),
    }),
  ),
  curves: Type.Array(
    Type.Object({
      stick: Type.Integer(),
      celsius: Type.Number(),
      points: Type.Array(
        Type.Object({
          hours: Type.Number(),
          millimetres: Type.Number(),
          low: Type.Number({ description: 'Lower edge of the 95 % band of the curve' }),
          high: Type.Number({ description: 'Upper edge of the 95 % band of the curve' }),
        }),
      ),
    }),
  ),
});
export type BentStickView = Static<typeof BentStickView>;
