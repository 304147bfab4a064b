// What crosses the wire between server and screens, as JSON schemas and as types at once.
// JSON, ISO 8601 instants, degrees Celsius; the screen converts and words.

import { STANDINGS } from '../../wax/classes/wax-value.ts';
import { type Static, Type } from 'typebox';
import { INTENT_KINDS } from '../../lab/intent-kind.ts';
import { STATION_KINDS } from '../../lab/station-kinds.ts';
import { Figure } from './figures.ts';
import { Instant, Nullable, Values } from './schema-parts.ts';

export const TrendPoint = Type.Object({
  at: Instant,
  min: Type.Number(),
  mean: Type.Number(),
  max: Type.Number(),
});
export type TrendPoint = Static<typeof TrendPoint>;

const IntentView = Type.Object({
  kind: Type.Enum([...INTENT_KINDS]),
  by: Type.String(),
  since: Instant,
  until: Instant,
});
export type IntentView = Static<typeof IntentView>;

const LoadView = Type.Object(
  {
    load: Type.String(),
    since: Instant,
    soakedMinutes: Type.Number({ description: 'At the softening temperature so far' }),
    coreCelsius: Nullable(Type.Number({ description: 'By conduction from the place; not measured' })),
    softCelsius: Nullable(Type.Number({ description: 'Where the wax counts as soft' })),
    softToTheCoreAt: Nullable({
      ...Instant,
      description: 'If the place stays as warm; in the past: it is soft; null: never, or unknown',
    }),
  },
  { description: 'What is in it to soften; null: nothing' },
);
const FlowView = Type.Object(
  {
    atLeastPercent: Nullable(Type.Number()),
    atMostPercent: Nullable(Type.Number()),
    standing: Type.Enum([...STANDINGS]),
  },
  { description: 'Flow of its wax at its temperature, by the limits of the class; null: they say nothing' },
);

const AgeingView = Type.Object(
  {
    ageingTimes: Type.Number({ description: 'As fast as at the reference' }),
    evaporationTimes: Type.Number({ description: 'As fast as at the reference; a ratio, not a mass' }),
    referenceCelsius: Type.Number({ description: 'Where this wax is usually kept' }),
    standing: Type.Enum([...STANDINGS]),
  },
  { description: 'What its temperature does to melted wax; null: it is not melted, or none is named' },
);

export const StationView = Type.Object({
  id: Type.String(),
  name: Type.String(),
  kind: Type.Enum([...STATION_KINDS]),
  isHeater: Type.Boolean(),
  wax: Nullable(Type.Object({ id: Type.String(), name: Type.String() })),
  condition: Type.String({ description: 'One of the conditions in docs/glossary.md' }),
  celsius: Nullable(Type.Number()),
  at: Nullable(Instant),
  celsiusPerHour: Nullable(Type.Number()),
  minutesToCeiling: Nullable(Type.Number()),
  windowLow: Nullable(Figure),
  windowHigh: Nullable(Figure),
  ceiling: Nullable(Figure),
  uncertaintyCelsius: Type.Number(),
  doseShare: Nullable(Type.Number()),
  doseEquivalentHours: Nullable(Type.Number()),
  chargeSince: Nullable(Instant),
  chargeGrams: Nullable(Type.Number()),
  readyBy: Type.Optional(
    Nullable(Type.String({ description: '`HH:MM` by the clock of the lab, on working days' })),
  ),
  swingCelsius: Nullable(Type.Number()),
  load: Type.Optional(Nullable(LoadView)),
  flow: Type.Optional(Nullable(FlowView)),
  ageing: Type.Optional(Nullable(AgeingView)),
  probes: Type.Array(Type.String()),
  /** Ids of alarms that are not over, worst first. */
  alarms: Type.Array(Type.String()),
  /** Last hour, at most 60 buckets; gaps are missing buckets. */
  trend: Type.Array(TrendPoint),
  /** What people mean it to do for a while. */
  intents: Type.Array(IntentView),
  /** Those that ended by themselves within the last hour. */
  endedIntents: Type.Array(IntentView),
  /** Seconds after which a reading is no longer live. */
  staleAfterSeconds: Type.Number(),
});
export type StationView = Static<typeof StationView>;

const ElectricalView = Type.Object({ unit: Type.Enum(['Ohm', 'mV']), value: Type.Number(), at: Instant });
const DeviceStatusView = Type.Object(
  {
    at: Instant,
    battery_percent: Nullable(Type.Number()),
    battery_volts: Nullable(Type.Number()),
    battery_low_volts: Nullable(
      Type.Number({ description: 'As the lab set it for the probe; null: volts are shown and not judged' }),
    ),
    isBatteryLow: Type.Boolean({
      description: 'At 20 % or below, or at the volts that the lab set or below',
    }),
    signal_dbm: Nullable(Type.Number()),
  },
  { description: 'As the probe, else its gateway, last reported it; null where neither does' },
);

export const ProbeView = Type.Object({
  id: Type.String(),
  gateway: Type.String(),
  station: Nullable(Type.String()),
  claimed: Type.Boolean(),
  retired: Type.Boolean({ description: 'Taken out of use for good' }),
  celsius: Nullable(Type.Number()),
  at: Nullable(Instant),
  quality: Nullable(Type.String()),
  firstSeen: Nullable(Instant),
  gatewayOnline: Nullable(Type.Boolean()),
  /** The newest value of a bare sensor as it came; null for a probe that sends degrees. */
  electrical: Nullable(ElectricalView),
  status: Nullable(DeviceStatusView),
});
export type ProbeView = Static<typeof ProbeView>;

export const AlarmView = Type.Object({
  id: Type.String(),
  rule: Type.String(),
  /** Station id where there is one, else the probe, gateway or `site`. */
  subject: Type.String(),
  subjectKind: Type.String(),
  station: Nullable(Type.String()),
  stationName: Nullable(Type.String()),
  priority: Type.String(),
  /** A to I of the standard's state table. */
  stateCode: Type.String(),
  /** The state in words: `unacknowledged`, `acknowledged`, `returned`, `latched`, `shelved`, ... */
  state: Type.String(),
  active: Type.Boolean(),
  acknowledged: Type.Boolean(),
  latched: Type.Boolean(),
  tense: Type.String(),
  count: Type.Integer(),
  raisedAt: Instant,
  clearedAt: Nullable(Instant),
  acknowledgedAt: Nullable(Instant),
  acknowledgedBy: Nullable(Type.String()),
  shelvedUntil: Nullable(Instant),
  evidence: Values,
  /** Which reading of its station is worth knowing once it is over; none where how far they went says nothing of it. */
  extremes: Type.Optional(Type.Array(Type.Enum(['highest', 'lowest']))),
  /** What happened, in the reader's language. */
  message: Type.String(),
  /** What the heat does to the wax. */
  meaning: Type.String(),
  /** What to do. */
  action: Type.String(),
  /** The safety caution; empty when the rule needs none. */
  caution: Type.String(),
  history: Type.Array(
    Type.Object({
      at: Instant,
      kind: Type.String(),
      by: Nullable(Type.String()),
      reason: Nullable(Type.String()),
    }),
  ),
});
export type AlarmView = Static<typeof AlarmView>;

/** A series in buckets. */
export const SeriesView = Type.Object({
  from: Instant,
  to: Instant,
  bucketSeconds: Type.Number(),
  buckets: Type.Array(
    Type.Object({
      at: Instant,
      min: Type.Number(),
      max: Type.Number(),
      mean: Type.Number(),
      count: Type.Integer(),
      doubtful: Type.Integer({ description: 'How many of them are not of quality `good`' }),
    }),
  ),
});
export type SeriesView = Static<typeof SeriesView>;

export const ReadingsView = Type.Object({ probe: Type.String(), ...SeriesView.properties });
export type ReadingsView = Static<typeof ReadingsView>;

export const QuarantineView = Type.Object({
  /** One row for a topic and a reason: repeats are counted, the newest example is kept. */
  topic: Type.String(),
  code: Type.String(),
  values: Type.Optional(Values),
  /** What is wrong and what to do, in the reader's language. */
  reason: Type.String(),
  /** What was refused, as text. */
  offending: Type.Optional(Type.String()),
  count: Type.Integer(),
  firstAt: Instant,
  lastAt: Instant,
  /** First 1 kB of the newest example, base64. */
  sampleBase64: Type.String(),
  bytes: Type.Integer(),
});
export type QuarantineView = Static<typeof QuarantineView>;

export const PartHealthView = Type.Object({
  ok: Type.Boolean(),
  /** In the language of the requester. */
  detail: Type.String(),
  problems: Type.Array(Type.Object({ code: Type.String(), values: Type.Optional(Values) })),
});
export type PartHealthView = Static<typeof PartHealthView>;

export const HealthView = Type.Object({
  status: Type.Union([Type.Literal('ok'), Type.Literal('degraded')]),
  site: Type.String(),
  siteName: Type.String(),
  timeZone: Type.String(),
  /** This and the parts are shown to who is signed in. */
  version: Type.Optional(Type.String()),
  /** Origin by which other devices open the lab; null when the lab gave no name. Shown to who is signed in. */
  reachedAt: Type.Optional(Nullable(Type.String())),
  demo: Type.Boolean(),
  /** Share of the demonstration's simulated past that is there already, 0 to 1; null when all is there. */
  preparing: Nullable(Type.Number()),
  startedAt: Instant,
  now: Instant,
  parts: Type.Optional(Type.Record(Type.String(), PartHealthView)),
});
export type HealthView = Static<typeof HealthView>;

/**
 * Events of `/api/live`. Every event has an id `{boot}-{sequence}`; a screen that was away sends the last one it
 * saw and gets what it missed, or `restart` when that is no longer kept and it must load anew.
 * `beat` comes every second, so that a screen shows within two seconds that the line is dead.
 */
export type LiveEvent =
  | { readonly event: 'station'; readonly data: StationLive }
  | { readonly event: 'alarm'; readonly data: AlarmView }
  | { readonly event: 'probe'; readonly data: ProbeView }
  | { readonly event: 'lab'; readonly data: { readonly changedAt: string } }
  | { readonly event: 'beat'; readonly data: { readonly now: string } }
  | { readonly event: 'restart'; readonly data: Record<string, never> };

/** What of a station moves; the rest changes with `lab`. */
export type StationLive = Pick<
  StationView,
  | 'id'
  | 'condition'
  | 'celsius'
  | 'at'
  | 'celsiusPerHour'
  | 'minutesToCeiling'
  | 'doseShare'
  | 'doseEquivalentHours'
  | 'swingCelsius'
  | 'load'
  | 'flow'
  | 'ageing'
  | 'alarms'
  | 'intents'
  | 'endedIntents'
>;
