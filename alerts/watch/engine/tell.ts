// From a look to a finding to an alarm: the one place where conditions are timed and alarms are stepped.

import { type AlarmEvent, alarmStep, normalAlarm } from '../life/alarm-step.ts';
import { alarmStateCode } from '../life/alarm-state.ts';
import type { Alarm } from '../life/alarm.ts';
import type { Refusal } from '../life/refusal.ts';
import { type ConditionMoment, conditionStep, type Look } from '../rule/condition-timer.ts';
import type { Finding } from '../rule/finding.ts';
import { isNotice, type Rule } from '../rule/rule.ts';
import type { RuleKind } from '../rule/rule-kind.ts';
import type { PlannedRule } from './lab-plan.ts';
import type { Conditions } from './memory.ts';
import { alarmsAbout, keepAlarms, type Work } from './work.ts';

export type Moment = ConditionMoment;

/** Steps one condition, and tells what began, grew or ended. `hiddenBy` is asked only when something is told. */
export function judge(
  work: Work,
  conditions: Conditions,
  planned: PlannedRule,
  subject: string,
  look: Look,
  moment: Moment,
  hiddenBy: () => string | null,
): void {
  const { rule } = planned;
  const state = conditions[rule.kind] ?? null;
  if (state === null && typeof look === 'string') return;
  const step = conditionStep(state, look, moment, planned.times);
  if (step.state === null) delete conditions[rule.kind];
  else conditions[rule.kind] = step.state;
  if (step.told === null) return;
  tell(work, rule, { ...identity(rule, subject), ...step.told, at: moment.at }, hiddenBy);
}

/** Subject of findings about the house as a whole and the watcher itself. */
export const SITE = 'site';

const identity = ({ kind, subjectKind }: Rule, subject: string) => ({
  rule: kind,
  subject,
  subjectKind: subject === SITE ? ('site' as const) : subjectKind,
});

export function tell(work: Work, rule: Rule, finding: Finding, hiddenBy: () => string | null): void {
  work.findings.push(finding);
  if (isNotice(rule)) return;
  const { at, evidence, phase, tense, subject } = finding;
  if (phase === 'begins') {
    hide(work, rule, subject, hiddenBy(), at);
    stepAlarm(work, rule, subject, { type: 'begins', at, tense, evidence });
  } else if (phase === 'updates') stepAlarm(work, rule, subject, { type: 'updates', at, evidence });
  else stepAlarm(work, rule, subject, { type: 'ends', at });
}

/** Puts an alarm behind its first cause or its design logic, or brings it out again. */
export function hide(
  work: Work,
  rule: Rule,
  subject: string,
  reason: string | null,
  at: Finding['at'],
): void {
  const known = findAlarm(work, subject, rule.kind);
  if (reason !== null) {
    // An alarm that nothing ever raised need not be on record as hidden.
    if (known?.suppressedBy !== reason) stepAlarm(work, rule, subject, { type: 'suppress', at, reason });
  } else if (known !== undefined && known.suppressedBy !== null)
    stepAlarm(work, rule, subject, { type: 'unsuppress', at });
}

export const findAlarm = (work: Work, subject: string, kind: RuleKind): Alarm | undefined =>
  alarmsAbout(work.parts, subject)?.[kind];

export function stepAlarm(work: Work, rule: Rule, subject: string, event: AlarmEvent): Refusal | undefined {
  const known = findAlarm(work, subject, rule.kind);
  if (
    known === undefined &&
    (event.type === 'ends' || event.type === 'updates' || event.type === 'unsuppress')
  )
    return undefined;
  const alarm =
    known ??
    normalAlarm({ ...identity(rule, subject), priority: rule.priority, latches: rule.latches }, event.at);
  const step = alarmStep(alarm, event);
  work.changes.push(...step.changes);
  if (step.alarm !== known) keep(work, step.alarm);
  return step.refusal;
}

function keep(work: Work, alarm: Alarm): void {
  const { [alarm.rule]: _, ...others } = alarmsAbout(work.parts, alarm.subject) ?? {};
  const isOpen = alarmStateCode(alarm) !== 'A';
  const kept = isOpen ? { ...others, [alarm.rule]: alarm } : others;
  keepAlarms(work, alarm.subject, Object.keys(kept).length > 0 ? kept : null);
}
