// Does the prediction hold? Measured fits, their agreement with what was predicted, and the remakes, as they cross the wire.

import { type Static, Type } from 'typebox';
import { closed, Instant, Nullable } from './schema-parts.ts';

const Stage = Type.Enum(['pattern', 'casting'], {
  description: '`pattern`: seated in wax before it was invested; `casting`: seated as the casting',
});
const Factors = Type.Record(Type.String(), Type.String(), {
  description:
    'By name: wax, technique, lot, charge, dose, origin, softening, station, stored, warm, die, investment, alloy',
});

const FitCaseView = Type.Object({
  pattern: Type.String(),
  caseReference: Type.String(),
  stage: Stage,
  measuredAt: Instant,
  gapMicrometres: Nullable(Type.Number({ description: 'Null: it passed without a measure' })),
  isPassed: Type.Boolean(),
  predictedMicrometres: Nullable(Type.Number()),
  lowMicrometres: Nullable(Type.Number()),
  highMicrometres: Nullable(Type.Number()),
  storedHours: Nullable(Type.Number()),
  meanKineticCelsius: Nullable(Type.Number()),
  factors: Factors,
});

const FitAgreementView = Type.Object({
  stage: Stage,
  pairs: Type.Integer({ description: 'Cases with a measured gap and a prediction' }),
  least: Type.Integer({ description: 'So many are needed before they say anything' }),
  biasMicrometres: Nullable(Type.Number({ description: 'Mean of measured less predicted' })),
  biasUncertaintyMicrometres: Nullable(Type.Number({ description: 'Expanded, 95 %' })),
  spreadMicrometres: Nullable(Type.Number({ description: 'Standard deviation' })),
  insideShare: Nullable(Type.Number({ description: 'Of the measured ones inside the predicted band' })),
  insideLow: Nullable(Type.Number()),
  insideHigh: Nullable(Type.Number()),
});

const RecalibrationView = Type.Object({
  wax: Type.String(),
  technique: Type.String(),
  stage: Stage,
  pairs: Type.Integer(),
  problem: Nullable(Type.String({ description: 'Code of why there is none' })),
  strain: Nullable(Type.Number({ description: 'Strain frozen in, as a fraction' })),
  uncertainty: Nullable(Type.Number({ description: 'Expanded, 95 %' })),
  presentStrain: Type.Number(),
  constantMicrometres: Nullable(
    Type.Number({ description: 'What does not grow with the prediction; it is not added to it' }),
  ),
  constantUncertaintyMicrometres: Nullable(Type.Number()),
  spreadShare: Nullable(Type.Number({ description: 'Half width of the band of the strain' })),
});

const CommonFactorView = Type.Object({
  name: Type.String(),
  value: Type.String(),
  remade: Type.Integer(),
  of: Type.Integer(),
  otherRemade: Type.Integer(),
  otherOf: Type.Integer(),
  chance: Type.Number({ description: 'Of so many remakes or more if it did not matter (Fisher, one-sided)' }),
});

export const FitProofView = Type.Object({
  cases: Type.Array(FitCaseView, { description: 'Newest first' }),
  agreements: Type.Array(FitAgreementView),
  recalibrations: Type.Array(RecalibrationView),
  remakes: Type.Object({
    remade: Type.Integer({ description: 'Remade, or cast with a gap over the tolerance' }),
    ended: Type.Integer(),
    price: Nullable(Type.Number({ description: "In the lab's own currency; null: the lab has set none" })),
    minutes: Nullable(Type.Number()),
    factors: Type.Array(CommonFactorView, { description: 'No proof of a cause' }),
  }),
});
export type FitProofView = Static<typeof FitProofView>;

export const RecalibrateBody = Type.Object(
  { wax: Type.String({ maxLength: 40 }), technique: Type.String({ maxLength: 20 }), stage: Stage },
  closed,
);
