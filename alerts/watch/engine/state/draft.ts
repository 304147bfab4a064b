// The state of a batch in the making: a part is copied at its first change and then written in place, so that a
// thousand readings cost one copy of each small part they touch, and the state that was handed in stays as it was.

import type { Lab } from '../../../../lab/lab.ts';
import type { EpochMillis } from '../../../../wax/units.ts';
import type { Alarm, AlarmChange } from '../../life/alarm.ts';
import type { Refusal } from '../../life/refusal.ts';
import type { HeatPoint } from '../../measures/pattern-heat.ts';
import type { RuleKind } from '../../rules/all-rules.ts';
import type { TenMinutes } from '../../measures/ten-minutes.ts';
import type { Finding } from '../../life/finding.ts';
import { copyOf, copyProbe, copyStation, createProbeMemory, createStationMemory } from './copy-parts.ts';
import { type EditedParts, emptyEdits } from './edited-parts.ts';
import { copyQuiet, emptyQuiet, type QuietParts } from './quiet-parts.ts';
import { type ExpectedGateway, type LabPlan, labPlan, type ProbePlan, type StationPlan } from './lab-plan.ts';
import {
  type AlarmsKey,
  type ClockMemory,
  type CourseKey,
  type Conditions,
  type GatewayKey,
  type GatewayMemory,
  type HistoryKey,
  isAlarmsKey,
  type PatternKey,
  type PatternMemory,
  type ProbeMemory,
  type SiteMemory,
  type StationMemory,
  type SubjectAlarms,
  type WatchKey,
  type WatchState,
} from './memory.ts';

type Mutable<T> = { -readonly [Key in keyof T]: T[Key] };

export interface Draft {
  readonly lab: Lab;
  readonly plan: LabPlan;
  readonly parts: Mutable<WatchState>;
  /** Keys of the parts that differ from the state handed in. */
  readonly changed: Set<WatchKey>;
  /** Those that are of this state alone, and so are written in place. */
  readonly own: Set<WatchKey>;
  /** Stations whose value or conditions were touched. */
  readonly stations: Set<string>;
  readonly findings: Finding[];
  readonly alarmChanges: AlarmChange[];
  readonly refusals: Refusal[];
  /** Arrival of the entry in hand. */
  receivedAt: EpochMillis;
  /** Keys of the parts with open alarms. */
  readonly alarmsKeys: Set<AlarmsKey>;
  /** What the lab has no longer was forgotten in this batch. */
  hasForgotten: boolean;
  /** Before it, passing time brings nothing about at any open alarm. */
  upkeepAt: number;
  /** Parts that were copied already. */
  edited: EditedParts;
  quiet: QuietParts;
}

/** To be called when parts were replaced by other ways than the functions here. */
export const forgetEdited = (draft: Draft): void => {
  draft.edited = emptyEdits();
  draft.quiet = emptyQuiet(draft.plan);
  draft.upkeepAt = 0;
};

export const startDraft = (state: WatchState, lab: Lab): Draft => {
  const plan = labPlan(lab);
  const quiet = quietParts(state, plan);
  const alarmsKeys = remembered.get(state)?.alarmsKeys ?? alarmsKeysIn(state);
  return draftOf(
    { ...state },
    { alarmsKeys: new Set(alarmsKeys), own: new Set(), quiet: copyQuiet(quiet) },
    lab,
    plan,
  );
};

/** For a state that is the caller's alone and is written in place. */
export const continueDraft = (ownState: WatchState, lab: Lab): Draft => {
  const plan = labPlan(lab);
  const { alarmsKeys = new Set(alarmsKeysIn(ownState)), own = new Set<WatchKey>() } =
    remembered.get(ownState) ?? {};
  return draftOf(ownState, { alarmsKeys, own, quiet: quietParts(ownState, plan) }, lab, plan);
};

type Remembered = Pick<Draft, 'alarmsKeys' | 'own' | 'quiet'>;

const draftOf = (
  parts: Mutable<WatchState>,
  { alarmsKeys, own, quiet }: Remembered,
  lab: Lab,
  plan: LabPlan,
): Draft => ({
  lab,
  plan,
  parts,
  changed: new Set(),
  own,
  stations: new Set(),
  findings: [],
  alarmChanges: [],
  refusals: [],
  receivedAt: 0 as EpochMillis,
  alarmsKeys,
  hasForgotten: false,
  upkeepAt: 0,
  edited: emptyEdits(),
  quiet,
});

// To look for them among the parts of thousands of probes takes longer than to judge a message, and to copy a part anew at
// each arrival longer than to judge the reading.
const remembered = new WeakMap<WatchState, Remembered>();
const alarmsKeysIn = (state: WatchState): readonly AlarmsKey[] => Object.keys(state).filter(isAlarmsKey);

/** What is quiet in the state; of another version of the lab nothing is. */
export function quietParts(state: WatchState, plan: LabPlan): QuietParts {
  const quiet = remembered.get(state)?.quiet;
  return quiet?.plan === plan ? quiet : emptyQuiet(plan);
}

/** To be called when the parts are handed out. */
export const endDraft = ({ alarmsKeys, own, parts, quiet }: Draft): void => {
  remembered.set(parts, { alarmsKeys, own, quiet });
};

/** True when the part must be copied before it is written. */
const isFirstChange = (draft: Draft, key: WatchKey): boolean => {
  draft.changed.add(key);
  if (draft.own.has(key)) return false;
  draft.own.add(key);
  return true;
};

/** As it is now; undefined while nothing of it is remembered. */
export const stationOf = (draft: Draft, { index, key }: StationPlan): StationMemory | undefined =>
  draft.edited.stations[index] ?? draft.parts[key];

export function editStation(draft: Draft, { index, key }: StationPlan): StationMemory {
  const edited = draft.edited.stations[index];
  if (edited !== undefined) return edited;
  const memory = draft.parts[key];
  const isCopied = !isFirstChange(draft, key);
  const own = memory === undefined ? createStationMemory() : isCopied ? memory : copyStation(memory);
  draft.parts[key] = own;
  draft.edited.stations[index] = own;
  return own;
}

function putProbe(draft: Draft, { index, key }: ProbePlan, memory: ProbeMemory): ProbeMemory {
  draft.changed.add(key);
  draft.own.add(key);
  draft.parts[key] = memory;
  draft.edited.probes[index] = memory;
  return memory;
}

/** The memory of a probe of the lab that has not sent anything yet; `readings` is 0. */
export const expectProbe = (draft: Draft, plan: ProbePlan, now: number): ProbeMemory =>
  putProbe(draft, plan, copyOf(createProbeMemory(0, 0), { readings: 0, receivedAt: now }));

/** The memory of a probe, begun with its first reading. */
export function beginProbe(draft: Draft, plan: ProbePlan, at: number, celsius: number): ProbeMemory {
  draft.quiet.probes[plan.index] = undefined;
  const conditions = { ...draft.parts[plan.key]?.conditions };
  return putProbe(draft, plan, copyOf(createProbeMemory(at, celsius), { conditions }));
}

/** As it is now; undefined while nothing of it is remembered. */
export const probeOf = (draft: Draft, { index, key }: ProbePlan): ProbeMemory | undefined =>
  draft.edited.probes[index] ?? draft.parts[key];

export function editProbe(draft: Draft, plan: ProbePlan): ProbeMemory | undefined {
  const edited = draft.edited.probes[plan.index];
  if (edited !== undefined) return edited;
  const memory = draft.parts[plan.key];
  if (memory === undefined) return undefined;
  return putProbe(draft, plan, draft.own.has(plan.key) ? memory : copyProbe(memory));
}

/** `plan`: of a gateway that publishes probes of stations. */
export function editGateway(draft: Draft, plan: ExpectedGateway): GatewayMemory {
  const edited = draft.edited.gateways[plan.index];
  if (edited !== undefined) return edited;
  const own = editAnyGateway(draft, plan.key);
  draft.edited.gateways[plan.index] = own;
  return own;
}

export function editAnyGateway(draft: Draft, key: GatewayKey): GatewayMemory {
  const memory = draft.parts[key];
  if (!isFirstChange(draft, key) && memory !== undefined) return memory;
  const copy: GatewayMemory =
    memory === undefined
      ? { online: null, changedAt: null, receivedAt: null, backAt: null, conditions: {} }
      : { ...memory, conditions: { ...memory.conditions } };
  draft.parts[key] = copy;
  return copy;
}

export function editPattern(draft: Draft, key: PatternKey, create: () => PatternMemory): PatternMemory {
  const memory = draft.parts[key];
  if (!isFirstChange(draft, key) && memory !== undefined) return memory;
  const copy = memory === undefined ? create() : { ...memory, conditions: { ...memory.conditions } };
  draft.parts[key] = copy;
  return copy;
}

export function editClock(draft: Draft): ClockMemory {
  const { edited, parts } = draft;
  if (edited.clock !== null) return edited.clock;
  const isCopied = isFirstChange(draft, 'clock');
  const memory = parts.clock;
  const own = isCopied || memory === undefined ? copyOf({ now: 0, awakeAt: 0 }, memory ?? {}) : memory;
  parts.clock = own;
  edited.clock = own;
  return own;
}

const NO_SITE: SiteMemory = [];

/** Conditions of the site or of a part of the running process. */
export function editSiteConditions(draft: Draft, subject: string): Conditions {
  if (isFirstChange(draft, 'site'))
    draft.parts.site = (draft.parts.site ?? NO_SITE).map(
      ([id, conditions]) => [id, { ...conditions }] as const,
    );
  const present = siteConditions(draft.parts, subject);
  if (present !== undefined) return present;
  const conditions: Conditions = {};
  draft.parts.site = [...(draft.parts.site ?? NO_SITE), [subject, conditions]];
  return conditions;
}
export const siteConditions = (state: WatchState, subject: string): Conditions | undefined =>
  state.site?.find(([id]) => id === subject)?.[1];

export const putHistory = (draft: Draft, key: HistoryKey, closed: readonly TenMinutes[]): void => {
  draft.parts[key] = closed;
  draft.changed.add(key);
};

export const putCourse = (draft: Draft, key: CourseKey, points: readonly HeatPoint[]): void => {
  draft.parts[key] = points;
  draft.changed.add(key);
};

/** Forgets the part of an alarm that is over, or of a pattern that waits no more. */
export const forget = (draft: Draft, key: AlarmsKey | PatternKey | CourseKey): void => {
  delete draft.parts[key];
  draft.changed.add(key);
  draft.own.delete(key);
  if (isAlarmsKey(key)) draft.alarmsKeys.delete(key);
};

export const putAlarms = (draft: Draft, key: AlarmsKey, alarms: SubjectAlarms): void => {
  draft.parts[key] = alarms;
  draft.changed.add(key);
  draft.upkeepAt = 0;
  draft.alarmsKeys.add(key);
};

const NO_HISTORY: readonly TenMinutes[] = [];
export const closedHistory = (state: WatchState, key: HistoryKey): readonly TenMinutes[] =>
  state[key] ?? NO_HISTORY;

const NO_ALARMS: readonly Alarm[] = [];

const alarmsAt = (state: WatchState, keys: readonly AlarmsKey[]): readonly Alarm[] =>
  [...keys].sort().flatMap((key) => Object.values(state[key] ?? {}));

/** All that is open, by subject; the order is the same after a restart. */
export const allAlarms = (state: WatchState): readonly Alarm[] =>
  alarmsAt(state, Object.keys(state).filter(isAlarmsKey));

/** The earliest of an instant of each that is open; infinite when none is. */
export function earliestOfOpen({ alarmsKeys, parts }: Draft, instantOf: (alarm: Alarm) => number): number {
  let earliest = Number.POSITIVE_INFINITY;
  for (const key of alarmsKeys) {
    const alarms = parts[key];
    for (const kind in alarms) {
      const alarm = alarms[kind as RuleKind];
      if (alarm !== undefined) earliest = Math.min(earliest, instantOf(alarm));
    }
  }
  return earliest;
}

/** The same of a batch in the making. */
export const openAlarms = ({ alarmsKeys, parts }: Draft): readonly Alarm[] =>
  alarmsKeys.size === 0 ? NO_ALARMS : alarmsAt(parts, [...alarmsKeys]);
