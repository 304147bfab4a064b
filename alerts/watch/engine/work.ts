// The working copy of one batch: state parts are copied at their first change, then written in place, so that a
// thousand readings cost one copy of each small part they touch and the state handed in stays as it was.

import type { Entry } from '../../../lab/entry.ts';
import type { Lab } from '../../../lab/lab.ts';
import type { Alarm, AlarmChange } from '../life/alarm.ts';
import type { Refusal } from '../life/refusal.ts';
import type { Bucket } from '../measures/past.ts';
import type { Finding } from '../rule/finding.ts';
import type { WatchState, WatchStep } from './watch.ts';
import { type LabPlan, labPlan } from './lab-plan.ts';
import {
  alarmsPart,
  CLOCK_PART,
  type ClockMemory,
  type Conditions,
  type GatewayMemory,
  gatewayPart,
  isAlarmsPart,
  newGateway,
  newStation,
  type PatternMemory,
  SITE_PART,
  type StationMemory,
  type SubjectAlarms,
} from './memory.ts';

export interface Work {
  readonly lab: Lab;
  readonly plan: LabPlan;
  readonly parts: Record<string, unknown>;
  readonly changed: Set<string>;
  readonly findings: Finding[];
  readonly changes: AlarmChange[];
  readonly refusals: Refusal[];
  /** Arrival of the entry in hand. */
  receivedAt: Entry['receivedAt'];
}

export const startWork = (state: WatchState, lab: Lab): Work => ({
  lab,
  plan: labPlan(lab),
  parts: { ...state },
  changed: new Set(),
  findings: [],
  changes: [],
  refusals: [],
  receivedAt: 0 as Entry['receivedAt'],
});

export const finishWork = (work: Work): WatchStep => ({
  state: work.parts,
  changedParts: [...work.changed],
  findings: work.findings,
  alarmChanges: work.changes,
  refusals: work.refusals,
});

/** The part as it is; the cast is safe because only this folder writes parts, each under its own name. */
export const part = <T>(parts: WatchState, name: string): T | undefined => parts[name] as T | undefined;

function edit<T extends object>(work: Work, name: string, create: () => T, copy: (memory: T) => T): T {
  const now = part<T>(work.parts, name);
  if (now !== undefined && work.changed.has(name)) return now;
  work.changed.add(name);
  const fresh = now === undefined ? create() : copy(now);
  work.parts[name] = fresh;
  return fresh;
}

const copyStation = (memory: StationMemory): StationMemory => {
  const probes: StationMemory['probes'] = {};
  for (const id in memory.probes) {
    const probe = memory.probes[id];
    if (probe !== undefined) probes[id] = { ...probe, rules: { ...probe.rules } };
  }
  return { ...memory, probes, rules: { ...memory.rules } };
};

export const editStation = (work: Work, partName: string): StationMemory =>
  edit(work, partName, newStation, copyStation);

export const editGateway = (work: Work, id: string): GatewayMemory =>
  edit(work, gatewayPart(id), newGateway, (memory) => ({ ...memory, rules: { ...memory.rules } }));

/** Conditions of the house and of the watcher itself, by subject. */
type SiteMemory = Record<string, Conditions>;

export const editSite = (work: Work, subject: string): Conditions => {
  const site = edit<SiteMemory>(
    work,
    SITE_PART,
    () => ({}),
    (memory) => Object.fromEntries(Object.entries(memory).map(([id, rules]) => [id, { ...rules }])),
  );
  let own = site[subject];
  if (own === undefined) {
    own = {};
    site[subject] = own;
  }
  return own;
};
export const conditionsOfSite = (parts: WatchState, subject: string): Conditions =>
  part<SiteMemory>(parts, SITE_PART)?.[subject] ?? {};

export const editPattern = (work: Work, partName: string, create: () => PatternMemory): PatternMemory => {
  // The part of a pattern that is gone is null.
  if (work.parts[partName] === null) delete work.parts[partName];
  return edit(work, partName, create, (memory) => ({ ...memory, rules: { ...memory.rules } }));
};

export const editClock = (work: Work): ClockMemory =>
  edit<ClockMemory>(
    work,
    CLOCK_PART,
    () => ({ now: 0, awakeAt: 0 }),
    (memory) => ({ ...memory }),
  );

export const putPart = (work: Work, name: string, value: unknown): void => {
  work.parts[name] = value;
  work.changed.add(name);
};

const NOTHING: readonly Bucket[] = [];
export const closedBuckets = (parts: WatchState, name: string): readonly Bucket[] =>
  part<readonly Bucket[]>(parts, name) ?? NOTHING;
/** Undefined when nothing about the subject is open. */
export const alarmsAbout = (parts: WatchState, subject: string): SubjectAlarms | undefined =>
  part<SubjectAlarms>(parts, alarmsPart(subject));
/** All that is open, by subject; the order is the same after a restart. */
export const allAlarms = (parts: WatchState): readonly Alarm[] =>
  Object.keys(parts)
    .filter(isAlarmsPart)
    .sort()
    .flatMap((name) => Object.values(part<SubjectAlarms>(parts, name) ?? {}));
/** Null forgets the part. */
export const keepAlarms = (work: Work, subject: string, alarms: SubjectAlarms | null): void => {
  if (alarms === null) {
    delete work.parts[alarmsPart(subject)];
    work.changed.add(alarmsPart(subject));
  } else putPart(work, alarmsPart(subject), alarms);
};
/** Since when the watch has been watching without a break. */
export const awakeAt = (parts: WatchState): number => part<ClockMemory>(parts, CLOCK_PART)?.awakeAt ?? 0;
export const nowOf = (parts: WatchState): number => part<ClockMemory>(parts, CLOCK_PART)?.now ?? 0;
