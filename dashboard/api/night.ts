// The night sheet as it crosses the wire, and as it is printed: one set of figures for the screen, the PDF, the
// table and the mail. Instants are ISO 8601, temperatures degrees Celsius.

import { type Static, Type } from 'typebox';
import { PATTERN_VERDICTS, type PatternVerdictCode } from '../../lab/patterns/pattern-verdict.ts';
import { alarmFacts, closed, Fate, Instant, Nullable } from './schema-parts.ts';

const Verdict = Type.Enum([...PATTERN_VERDICTS], {
  description: 'From best to worst. It advises; the person who signs decides',
});
export type Verdict = PatternVerdictCode;

const Reason = Type.Object({
  code: Type.String(),
  values: Type.Record(Type.String(), Type.Union([Type.Number(), Type.String()]), {
    description: 'The unit is the end of the name',
  }),
  text: Type.String({ description: 'In the language that was asked for' }),
});
export type Reason = Static<typeof Reason>;

const Gap = Type.Object({ from: Instant, to: Instant, minutes: Type.Number() });

const HeatFigures = Type.Object({
  readings: Type.Integer(),
  minCelsius: Nullable(Type.Number()),
  maxCelsius: Nullable(Type.Number()),
  meanKineticCelsius: Nullable(Type.Number()),
  swings: Type.Number({ description: 'Cycles of at least 1 °C by rainflow; a half cycle counts 0.5' }),
  largestSwingCelsius: Type.Number(),
  minutesOutOfBand: Type.Number({ description: 'Warmer than the wax may lie' }),
  gaps: Type.Array(Gap, { description: 'More than 15 min without a reading' }),
  gapMinutes: Type.Number(),
  doubtfulShare: Type.Number(),
});
export type HeatFigures = Static<typeof HeatFigures>;

const PlaceLine = Type.Object({
  station: Type.String(),
  name: Type.String(),
  kind: Type.String(),
  verdict: Verdict,
  reasons: Type.Array(Reason),
  figures: HeatFigures,
  storageMaxCelsius: Nullable(Type.Number()),
  patterns: Type.Array(Type.String(), { description: 'Ids of the patterns that lay there' }),
  course: Type.Array(
    Type.Object({ at: Instant, min: Type.Number(), mean: Type.Number(), max: Type.Number() }),
    { description: 'For the chart; a missing bucket is a gap' },
  ),
  courseSeconds: Type.Number({ description: 'Width of a bucket of the course' }),
});
export type PlaceLine = Static<typeof PlaceLine>;

const PatternLine = Type.Object({
  id: Type.String(),
  caseReference: Type.String(),
  wax: Type.Object({ id: Type.String(), name: Type.String() }),
  technique: Type.String(),
  station: Type.String({ description: 'Where it lay at the end of the night' }),
  stationName: Type.String(),
  verdict: Verdict,
  asOf: {
    ...Instant,
    description: 'The instant of the verdict: the end of the night, or now while it lasts',
  },
  reasons: Type.Array(Reason),
  figures: HeatFigures,
  toleranceMicrometres: Type.Number(),
  predictedMicrometres: Nullable(Type.Number()),
  lowMicrometres: Nullable(Type.Number()),
  highMicrometres: Nullable(Type.Number()),
  reversibleMicrometres: Nullable(
    Type.Number({ description: 'By the difference from the room; goes back with the temperature' }),
  ),
  standing: Nullable(Type.String()),
  isCalibrated: Type.Boolean(),
  investBy: Nullable(Instant),
  isOverdue: Type.Boolean(),
  fate: Fate,
});
export type PatternLine = Static<typeof PatternLine>;

const HeaterLine = Type.Object({
  station: Type.String(),
  name: Type.String(),
  kind: Type.String(),
  leftOn: Type.Boolean(),
  reasons: Type.Array(Reason),
  maxCelsius: Nullable(Type.Number()),
  minutesHot: Type.Number({ description: 'At or above the low end of the working window, lab closed' }),
  minutesOverCeiling: Type.Number(),
  gapMinutes: Type.Number(),
});
export type HeaterLine = Static<typeof HeaterLine>;

const ProbeLine = Type.Object({
  probe: Type.String(),
  stationName: Nullable(Type.String()),
  reasons: Type.Array(Reason),
  gapMinutes: Type.Number(),
  doubtfulShare: Type.Number(),
});
export type ProbeLine = Static<typeof ProbeLine>;

const AlarmLine = Type.Object({ ...alarmFacts, place: Type.String(), acknowledged: Type.Boolean() });
export type AlarmLine = Static<typeof AlarmLine>;

const NearCharge = Type.Object({
  station: Type.String(),
  name: Type.String(),
  doseShare: Type.Number({ description: 'Of the allowance, 1 when it is used up' }),
  isSpent: Type.Boolean(),
});
export type NearCharge = Static<typeof NearCharge>;

const Note = Type.Object({ at: Instant, by: Type.String(), text: Type.String() });
export type Note = Static<typeof Note>;
const Signature = Type.Object({
  at: Instant,
  by: Type.String(),
  figures: Type.String({ description: 'Digest of the figures that were signed' }),
  holds: Type.Boolean({ description: 'Whether the figures are still those that were signed' }),
});
export type Signature = Static<typeof Signature>;

export const NightSheet = Type.Object({
  date: Type.String({ description: 'Morning of the opening, in the lab’s zone' }),
  lab: Type.String(),
  timeZone: Type.String(),
  from: Instant,
  to: Type.String({ format: 'date-time', description: 'The opening, or now while the night lasts' }),
  opens: Instant,
  isOver: Type.Boolean(),
  hoursKnown: Type.Boolean(),
  counts: Type.Object({ mayBeInvested: Type.Integer(), check: Type.Integer(), remake: Type.Integer() }),
  seeTo: Type.Array(Type.Object({ what: Type.String(), text: Type.String() }), {
    description: 'What must be seen to, worst first',
  }),
  places: Type.Array(PlaceLine),
  patterns: Type.Array(PatternLine),
  heaters: Type.Array(HeaterLine),
  probes: Type.Array(ProbeLine, { description: 'Those that were not well' }),
  alarms: Type.Array(AlarmLine),
  charges: Nullable(
    Type.Object(
      { at: Instant, near: Type.Array(NearCharge, { description: 'Most used first' }) },
      {
        description:
          'Charges of wax that are spent or nearly, when the sheet was made; null on the sheet of an earlier night, because doses are not kept for each night',
      },
    ),
  ),
  notes: Type.Array(Note),
  signatures: Type.Array(Signature),
  figures: Type.String({ description: 'Digest of the figures, to be named when signing' }),
});
export type NightSheet = Static<typeof NightSheet>;

export const NightDate = Type.String({ pattern: '^\\d{4}-\\d{2}-\\d{2}$', description: 'YYYY-MM-DD' });
export const NoteBody = Type.Object(
  { text: Type.String({ minLength: 1, maxLength: 1000, pattern: '\\S' }) },
  closed,
);
export const SignBody = Type.Object(
  { figures: Type.String({ minLength: 64, maxLength: 64, description: 'Of the sheet that is signed' }) },
  closed,
);
