// Alarms in the course of time: shelved ones come back, urgent ones are raised again when they were acknowledged and
// nothing changed, and alarms of what the lab has no longer come to their end.

import type { EpochMillis } from '../../../../wax/units.ts';
import type { Alarm } from '../../life/alarm.ts';
import { isHidden } from '../../life/alarm-state.ts';
import { RULE_KINDS, RULES } from '../../rules/all-rules.ts';
import { stepAlarm } from './alarms.ts';
import { type Draft, earliestOfOpen, editPattern, editStation, forget, openAlarms } from '../state/draft.ts';
import { isCourseKey, isPatternKey, createPatternMemory, patternOfCourse } from '../state/memory.ts';

export function maintainAlarms(draft: Draft, at: EpochMillis): void {
  // Nearly always none is due, and to look at each at every tick costs more than to remember when one will be.
  if (at >= draft.upkeepAt) {
    const dueAt = (alarm: Alarm): number => upkeepAt(draft, alarm);
    if (at >= earliestOfOpen(draft, dueAt))
      for (const alarm of openAlarms(draft)) maintainAlarm(draft, alarm, at);
    draft.upkeepAt = earliestOfOpen(draft, dueAt);
  }
  forgetWhatIsGone(draft, at);
}

/** From when on passing time brings something about at the alarm. */
const upkeepAt = (draft: Draft, alarm: Alarm): number =>
  alarm.active && !isWatched(draft, alarm) ? 0 : (alarm.shelvedUntil ?? dueAgainAt(alarm));

function maintainAlarm(draft: Draft, alarm: Alarm, at: EpochMillis): void {
  const { subject } = alarm;
  const rule = RULES[alarm.rule];
  if (alarm.shelvedUntil !== null) stepAlarm(draft, rule, subject, { type: 'time', at });
  if (alarm.active && !isWatched(draft, alarm)) {
    stepAlarm(draft, rule, subject, { type: 'ends', at });
    stepAlarm(draft, rule, subject, { type: 'unsuppress', at });
  } else if (at >= dueAgainAt(alarm))
    stepAlarm(draft, rule, subject, {
      type: 're-alarm',
      at,
      reason: `still so ${rule.reAlarmMinutes} min after it was acknowledged`,
    });
}

function dueAgainAt(alarm: Alarm): number {
  const minutes = RULES[alarm.rule].reAlarmMinutes;
  if (minutes === undefined || !alarm.active || alarm.acknowledgedAt === null || isHidden(alarm))
    return Number.POSITIVE_INFINITY;
  return alarm.acknowledgedAt + minutes * 60_000;
}

/** Whether the lab still has what the alarm is about, and the rule is on there. */
function isWatched({ plan }: Draft, { rule, subject, subjectKind }: Alarm): boolean {
  switch (subjectKind) {
    case 'station':
      return plan.stations.get(subject)?.byKind.has(rule) ?? false;
    case 'probe':
      return plan.probes.get(subject)?.station.byKind.has(rule) ?? false;
    case 'gateway':
      return plan.gateways.has(subject);
    case 'pattern':
      return plan.patterns.some(({ pattern }) => pattern.id === subject);
    case 'site':
      return true;
  }
}

/** A rule that was switched off leaves no condition behind, a pattern that ended long ago no memory. */
function forgetWhatIsGone(draft: Draft, at: EpochMillis): void {
  // The lab is one and the same throughout a batch, so what is gone is gone from its first tick on.
  if (draft.hasForgotten) return;
  draft.hasForgotten = true;
  for (const plan of draft.plan.stations.values()) {
    const conditions = draft.parts[plan.key]?.conditions;
    if (conditions === undefined) continue;
    for (const kind of RULE_KINDS)
      if (conditions[kind] !== undefined && !plan.kinds.has(kind))
        delete editStation(draft, plan).conditions[kind];
  }
  forgetEndedPatterns(draft, at);
}

/** That a pattern ended can be taken back: so long its heat is remembered, as nothing else of it is. */
const RESUMABLE_MILLIS = 7 * 24 * 3_600_000;

function forgetEndedPatterns(draft: Draft, at: EpochMillis): void {
  const waiting = new Set<string>(draft.plan.patterns.flatMap((plan) => [plan.key, plan.courseKey]));
  const keys = Object.keys(draft.parts).filter((key) => !waiting.has(key));
  for (const key of keys.filter(isPatternKey)) {
    const { at: newestReading = 0, conditions = {}, outlook = null } = draft.parts[key] ?? {};
    if (at - newestReading > RESUMABLE_MILLIS) forget(draft, key);
    else if (outlook !== null || Object.keys(conditions).length > 0)
      Object.assign(editPattern(draft, key, createPatternMemory), { outlook: null, conditions: {} });
  }
  for (const key of keys.filter(isCourseKey))
    if (draft.parts[patternOfCourse(key)] === undefined) forget(draft, key);
}
