// Patterns, and what is entered at a station, as they cross the wire.

import { type Static, Type } from 'typebox';
import { INTENT_KINDS } from '../../lab/intent-kind.ts';
import { FATES, LIFE_ACTS, ORIGINS, PATTERN_KINDS, SOFTENINGS, TECHNIQUES } from '../../lab/pattern.ts';
import { NEXT_STEPS, PATTERN_VERDICTS, PATTERN_REASONS } from '../../lab/patterns/pattern-verdict.ts';
import { CastingBody } from './casting.ts';
import { LotId, LotShareView, Reason, Wax } from './lots-of-wax.ts';
import { closed, Fate, Instant, Nullable } from './schema-parts.ts';

const StationId = Type.String({ minLength: 1, maxLength: 40, description: 'Id of the station' });

const ErrorBandView = Type.Object(
  { likely: Type.Number(), low: Type.Number(), high: Type.Number() },
  { description: 'Micrometres over the length, with its band' },
);

export const PatternVerdictView = Type.Object(
  {
    at: { ...Instant, description: 'The instant that it is about: whole ten minutes, or the newest act' },
    code: Type.Enum([...PATTERN_VERDICTS]),
    reason: Type.Enum([...PATTERN_REASONS]),
    nextStep: Type.Enum([...NEXT_STEPS]),
    text: Type.String({ description: 'The verdict in one sentence, in the language that was asked for' }),
    due: Type.String({ description: 'When it is due or since when it has been, in words' }),
    note: Type.String({ description: 'What its figures rest on' }),
    clock: Type.String({ description: 'The standing time, with its source; empty where the lab has none' }),
    whereabouts: Type.Enum(['on-die', 'standing', 'chilled', 'away']),
    permanentMicrometres: Nullable({
      ...ErrorBandView,
      description: 'What stays: released strain and a measured misfit',
    }),
    contractionMicrometres: Nullable({
      ...ErrorBandView,
      description: 'From the temperature of fitting to that of investing; counts against the tolerance',
    }),
    reversibleMicrometres: Nullable({
      ...ErrorBandView,
      description: 'From the room to where it lies; goes back with the temperature',
    }),
    celsius: Nullable(Type.Number({ description: 'Of the pattern' })),
    fittedCelsius: Type.Number(),
    dueBy: Nullable(Type.Enum(['tolerance', 'standing'])),
    isOverdue: Type.Boolean(),
    standingDueAt: Nullable({
      ...Instant,
      description: 'When the standing time is up; null: it does not run',
    }),
    isCalibrated: Type.Boolean(),
    measuredGapMicrometres: Nullable(Type.Number()),
  },
  { description: 'The one verdict that every screen, alarm and sheet shows' },
);
export type PatternVerdictView = Static<typeof PatternVerdictView>;

const Forming = {
  origin: Type.Optional(Type.Enum([...ORIGINS], { description: 'Where its shape comes from' })),
  softening: Type.Optional(Type.Enum([...SOFTENINGS], { description: 'What softened its wax' })),
  celsius: Type.Optional(Type.Number({ minimum: -40, maximum: 150, description: 'Of the wax then' })),
};

const LifeActView = Type.Object({
  id: Type.String(),
  kind: Type.Enum([...LIFE_ACTS]),
  at: Instant,
  recordedAt: Instant,
  by: Type.String(),
  ...Forming,
  gapMicrometres: Type.Optional(Type.Number({ description: 'Measured on seating; 0: it fitted' })),
});

const PatternOutlookView = Type.Object(
  {
    predictedMicrometres: Type.Number({ description: 'Permanent error and contraction together' }),
    lowMicrometres: Type.Number(),
    highMicrometres: Type.Number(),
    standing: Type.String({ description: 'Standing of the weakest figure behind it' }),
    meanKineticCelsius: Nullable(Type.Number()),
    swings: Type.Number({ description: 'Temperature cycles, counted by rainflow' }),
    largestSwingCelsius: Type.Number(),
    minutesTooWarm: Type.Number(),
    tooWarm: Type.Boolean(),
    ifSteady: Nullable({
      ...Instant,
      description: 'When it meets its tolerance if it stays as warm; null: never',
    }),
    byForecast: Nullable({
      ...Instant,
      description: 'The same if the coming day goes as the last; null: never, or no full day of readings yet',
    }),
    hasForecast: Type.Boolean({ description: 'The place has a full day of readings to forecast from' }),
  },
  { description: 'A forecast of a model over the temperatures where it lay, never a measurement' },
);

export const PatternView = Type.Object({
  id: Type.String({ description: 'Short id, printed on the label' }),
  caseReference: Type.String({ description: 'Empty where it was erased' }),
  kind: Type.Enum([...PATTERN_KINDS]),
  wax: Type.Object({ id: Type.String(), name: Type.String() }),
  charge: Nullable(Type.String({ description: 'Id of the charge that its wax came from' })),
  lots: Type.Array(LotShareView, { description: 'Lots in its wax, greatest share first' }),
  technique: Type.String(),
  forming: Type.Object(Forming),
  lengthMillimetres: Type.Number({ description: 'The length that matters for the fit' }),
  toleranceMicrometres: Type.Number(),
  madeAt: Instant,
  madeBy: Type.String(),
  station: Nullable(Type.String({ description: 'Where it lies' })),
  stationName: Nullable(Type.String()),
  casting: { ...CastingBody, description: 'What it is invested in and cast from' },
  stays: Type.Array(Type.Object({ station: Type.String(), from: Instant, to: Nullable(Instant) })),
  acts: Type.Array(LifeActView),
  /** The earlier of when the predicted error meets the tolerance and when the standing time is up; null: neither. */
  investBy: Nullable(Instant),
  verdict: Nullable({ ...PatternVerdictView, description: 'Null for one that ended' }),
  outlook: Nullable(PatternOutlookView),
  fate: Fate,
});
export type PatternView = Static<typeof PatternView>;

export const NewPatternBody = Type.Object(
  {
    caseReference: Type.String({ minLength: 1, maxLength: 60, pattern: '\\S' }),
    wax: Wax,
    technique: Type.Enum([...TECHNIQUES]),
    lengthMillimetres: Type.Number({ exclusiveMinimum: 0, maximum: 200 }),
    toleranceMicrometres: Type.Number({ exclusiveMinimum: 0, maximum: 2000 }),
    station: StationId,
    charge: Type.Optional(
      Type.String({ minLength: 1, maxLength: 60, description: 'Id of the charge that its wax came from' }),
    ),
    lot: Type.Optional({ ...LotId, description: 'Id of the lot, where its wax came from the pack' }),
    madeAt: Type.Optional({ ...Instant, description: 'Absent: now. Never in the future' }),
    kind: Type.Optional(Type.Enum([...PATTERN_KINDS], { default: 'pattern' })),
    isMadeOnDie: Type.Optional(
      Type.Boolean({ description: 'It was made on its die and stays there', default: false }),
    ),
    ...Forming,
  },
  closed,
);
export const MovePatternBody = Type.Object(
  {
    station: StationId,
    at: Type.Optional({ ...Instant, description: 'When, for what is sent later. Absent: now' }),
  },
  closed,
);
export const ResumePatternBody = Type.Object({ reason: Reason }, closed);
export const EndPatternBody = Type.Object(
  {
    fate: Type.Enum([...FATES]),
    reason: Reason,
    at: Type.Optional({ ...Instant, description: 'When, for what is sent later. Absent: now' }),
  },
  closed,
);
export const LifeActBody = Type.Object(
  {
    kind: Type.Enum([...LIFE_ACTS]),
    at: Type.Optional({
      ...Instant,
      description: 'When it was done: since it was made, not in the future. Absent: now',
    }),
    station: Type.Optional({
      ...StationId,
      description: 'Of `returned`: where it lies now. Absent: where it lay',
    }),
    gapMicrometres: Type.Optional(
      Type.Number({
        minimum: 0,
        maximum: 5000,
        description: 'Of `seated`: the gap that was measured. Absent: it fitted',
      }),
    ),
    ...Forming,
  },
  closed,
);
export const UndoLifeActBody = Type.Object(
  { id: Type.String({ minLength: 1, maxLength: 60, description: '`id` of the act' }) },
  closed,
);

export const LoadInBody = Type.Object(
  {
    load: Type.String({
      minLength: 1,
      maxLength: 60,
      description: 'What was laid in, e.g. sheets or sticks',
    }),
  },
  closed,
);
export const IntentBody = Type.Object(
  {
    kind: Type.Enum([...INTENT_KINDS]),
    until: Type.Optional(Type.String({ format: 'date-time', description: 'For those that need a time' })),
  },
  closed,
);
export const NothingBody = Type.Object({ reason: Type.Optional(Reason) }, closed);
