// Alarms in the course of time: shelved ones come back, urgent ones ask anew when they were acknowledged and nothing
// changed, and alarms of what the lab has no longer come to their end.

import { isHidden } from '../life/alarm-state.ts';
import type { Alarm } from '../life/alarm.ts';
import { RULES } from '../rules/all-rules.ts';
import type { EpochMillis } from '../../../wax/units.ts';
import { type StationMemory, patternPart } from './memory.ts';
import { stepAlarm } from './tell.ts';
import { allAlarms, editStation, part, putPart, type Work } from './work.ts';

export function keepInOrder(work: Work, at: EpochMillis): void {
  for (const alarm of allAlarms(work.parts)) {
    const { subject } = alarm;
    const rule = RULES[alarm.rule];
    if (alarm.shelvedUntil !== null) stepAlarm(work, rule, subject, { type: 'time', at });
    if (alarm.active && !isWatched(work, alarm)) {
      stepAlarm(work, rule, subject, { type: 'ends', at });
      stepAlarm(work, rule, subject, { type: 'unsuppress', at });
    } else if (asksAnew(alarm, at))
      stepAlarm(work, rule, subject, {
        type: 're-alarm',
        at,
        reason: `still so ${rule.reAlarmMinutes} min after it was acknowledged`,
      });
  }
  forgetWhatIsGone(work);
}

function asksAnew(alarm: Alarm, at: number): boolean {
  const minutes = RULES[alarm.rule].reAlarmMinutes;
  if (minutes === undefined || !alarm.active || alarm.acknowledgedAt === null || isHidden(alarm))
    return false;
  return at - alarm.acknowledgedAt >= minutes * 60_000;
}

/** Whether the lab still has what the alarm is about, and the rule is on there. */
function isWatched({ plan }: Work, { rule, subject, subjectKind }: Alarm): boolean {
  switch (subjectKind) {
    case 'station':
      return plan.stations.get(subject)?.byKind.has(rule) ?? false;
    case 'probe':
      return plan.stationOfProbe.get(subject)?.byKind.has(rule) ?? false;
    case 'gateway':
      return plan.gateways.has(subject);
    case 'pattern':
      return plan.patterns.some((one) => one.pattern.id === subject);
    case 'site':
      return true;
  }
}

/** A rule that was switched off leaves no condition behind, an ended pattern no memory. */
function forgetWhatIsGone(work: Work): void {
  for (const plan of work.plan.stations.values()) {
    const memory = part<StationMemory>(work.parts, plan.partName);
    if (memory === undefined) continue;
    for (const [kind, planned] of Object.entries(memory.rules))
      if (planned !== undefined && !plan.kinds.has(kind)) delete editStation(work, plan.partName).rules[kind];
  }
  const prefix = patternPart('');
  const waiting = new Set(work.plan.patterns.map((one) => one.partName));
  for (const name of Object.keys(work.parts))
    if (name.startsWith(prefix) && work.parts[name] !== null && !waiting.has(name)) putPart(work, name, null);
}
