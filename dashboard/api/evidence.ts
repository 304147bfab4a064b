// What a quality system needs of a span, as it crosses the wire: readings, limits as they held, excursions with cause
// and correction, probes as found and as left, who changed what, who was shown what.

import { type Static, Type } from 'typebox';
import { AuditRowView } from './audit.ts';
import { alarmFacts, closed, Instant, Nullable } from './schema-parts.ts';
import { TrainingView } from './training.ts';

export const EvidenceDay = Type.String({ pattern: '^\\d{4}-\\d{2}-\\d{2}$', description: 'YYYY-MM-DD' });

const Temperature = Nullable(Type.Number());
const figures = {
  from: Instant,
  to: Type.String({ format: 'date-time', description: 'Exclusive' }),
  readings: Type.Integer(),
  doubtfulReadings: Type.Integer({
    description: 'How many of them are not of quality `good`; they count all the same',
  }),
  minCelsius: Temperature,
  maxCelsius: Temperature,
  meanCelsius: Temperature,
  meanKineticCelsius: Temperature,
  minutesBeyond: Type.Number({ description: 'Time with the mean beyond the limits that held' }),
  gapMinutes: Type.Number(),
};
const EvidenceFigures = Type.Object(figures);
export type EvidenceFigures = Static<typeof EvidenceFigures>;

const HeldLimit = Nullable(Type.Object({ celsius: Type.Number(), standing: Type.String() }));
const LimitPeriod = Type.Object({
  from: Instant,
  to: Instant,
  isRecorded: Type.Boolean({
    description: 'False before the record of settings began: the oldest settings on record stand in',
  }),
  wax: Nullable(Type.String()),
  windowLow: HeldLimit,
  windowHigh: HeldLimit,
  ceiling: HeldLimit,
  storageMax: HeldLimit,
  largestNightSwingCelsius: Temperature,
});
export type LimitPeriod = Static<typeof LimitPeriod>;

const BeyondRun = Type.Object({
  from: Instant,
  to: Instant,
  minutes: Type.Number(),
  side: Type.Union([Type.Literal('above'), Type.Literal('below')]),
  extremeCelsius: Type.Number({ description: 'Of single readings' }),
  limitCelsius: Type.Number({ description: 'The limit that held then' }),
});
export type BeyondRun = Static<typeof BeyondRun>;

export const CauseRecord = Type.Object({
  cause: Type.String(),
  correction: Type.String(),
  by: Type.String({ description: 'The person who signed it' }),
  at: Instant,
});
export type CauseRecord = Static<typeof CauseRecord>;

const EvidenceExcursion = Type.Object({
  ...alarmFacts,
  notices: Type.Array(
    Type.Object({ at: Instant, channel: Type.String(), to: Type.String(), state: Type.String() }),
  ),
  signed: Type.Array(CauseRecord, { description: 'Oldest first; the last one holds' }),
});
export type EvidenceExcursion = Static<typeof EvidenceExcursion>;

const CalibrationPoint = Type.Object({
  readingCelsius: Type.Number({ description: 'Of the sensor, before any correction' }),
  referenceCelsius: Type.Number(),
  asFoundErrorCelsius: Type.Number({ description: 'With the correction that held before' }),
  asLeftErrorCelsius: Type.Number({ description: 'With the correction that held from then on' }),
});
const EvidenceProbe = Type.Object({
  probe: Type.String(),
  from: Instant,
  to: Instant,
  correctionCelsius: Nullable(
    Type.Number({ description: 'A single correction; null where a curve corrects' }),
  ),
  uncertaintyCelsius: Nullable(Type.Number({ description: 'Expanded, k = 2' })),
  calibrationDue: Nullable(Type.String()),
  certificate: Nullable(
    Type.Object({
      day: Type.String(),
      reference: Nullable(Type.String()),
      referenceUncertaintyCelsius: Nullable(Type.Number()),
      points: Type.Array(CalibrationPoint),
    }),
  ),
});
export type EvidenceProbe = Static<typeof EvidenceProbe>;

const EvidencePlace = Type.Object({
  station: Type.String(),
  name: Type.String(),
  kind: Type.String(),
  whole: EvidenceFigures,
  meanOfMinutes: Type.Number({ description: 'Width of the means behind mean, kinetic mean and minutes' }),
  steps: Type.Array(EvidenceFigures, { description: 'By day, or by month where the span is longer' }),
  limits: Type.Array(LimitPeriod),
  beyond: Type.Array(BeyondRun),
  beyondLeftOut: Type.Integer(),
  excursions: Type.Array(EvidenceExcursion),
  probes: Type.Array(EvidenceProbe),
});
export type EvidencePlace = Static<typeof EvidencePlace>;

export const EvidenceReport = Type.Object({
  lab: Type.String(),
  site: Type.String(),
  timeZone: Type.String(),
  from: Instant,
  to: Type.String({ format: 'date-time', description: 'Exclusive; now, where the span is not over' }),
  madeAt: Instant,
  version: Type.String(),
  settingsSince: Nullable(Instant),
  step: Type.Union([Type.Literal('day'), Type.Literal('month')]),
  places: Type.Array(EvidencePlace),
  elsewhere: Type.Array(EvidenceExcursion, { description: 'Alarms of gateways and of the program itself' }),
  changes: Type.Array(Type.Omit(AuditRowView, ['hash'])),
  changesLeftOut: Type.Integer(),
  training: Type.Array(TrainingView),
  auditHead: Nullable(Type.String({ description: 'Newest hash of the audit trail' })),
  figures: Type.String({ description: 'SHA-256 of the figures; the same figures give the same digest' }),
});
export type EvidenceReport = Static<typeof EvidenceReport>;

export const CauseBody = Type.Object(
  {
    cause: Type.String({ minLength: 1, maxLength: 1000, pattern: '\\S' }),
    correction: Type.String({ minLength: 1, maxLength: 1000, pattern: '\\S' }),
  },
  closed,
);
