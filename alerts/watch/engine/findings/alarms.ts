// From findings to alarms: the one place where alarms are stepped.

import type { Alarm } from '../../life/alarm.ts';
import { alarmStateCode, isHidden } from '../../life/alarm-state.ts';
import { type AlarmEvent, alarmStep, normalAlarm } from '../../life/alarm-step.ts';
import type { Refusal } from '../../life/refusal.ts';
import type { Finding } from '../../life/finding.ts';
import { isNotice } from '../../rule/rule.ts';
import type { KnownRule, RuleKind } from '../../rules/all-rules.ts';
import { type Draft, forget, putAlarms } from '../state/draft.ts';
import { type AlarmsKey, alarmsKey, type SubjectAlarms } from '../state/memory.ts';

/** Subject of findings about the site as a whole and the running process itself. */
export const SITE = 'site';

/** What a rule concluded, and what hides its alarm by design. */
export interface Judgement {
  readonly rule: KnownRule;
  readonly finding: Finding;
  /** Null: it is shown. */
  readonly hiddenBy: string | null;
}

export const identityOf = ({ kind, subjectKind }: KnownRule, subject: string) => ({
  rule: kind,
  subject,
  subjectKind: subject === SITE ? ('site' as const) : subjectKind,
});

/** Records the findings and steps the alarms that they are about. */
export function applyJudgements(draft: Draft, judgements: readonly Judgement[]): void {
  for (const { rule, finding, hiddenBy } of judgements) {
    draft.findings.push(finding);
    if (isNotice(rule)) continue;
    const { at, evidence, isWorse = false, phase, since, subject, tense } = finding;
    if (tense === 'learned' && findAlarm(draft, subject, rule.kind)?.active !== true) {
      if (since !== undefined && hiddenBy === null)
        announcePast(draft, rule, subject, { evidence, since, at });
    } else if (phase === 'begins') {
      hideAlarm(draft, rule, subject, hiddenBy, at);
      stepAlarm(draft, rule, subject, { type: 'begins', at, tense, evidence });
    } else if (phase === 'updates') stepAlarm(draft, rule, subject, { type: 'updates', at, evidence });
    else stepAlarm(draft, rule, subject, { type: 'ends', at, ...(isWorse && { evidence }) });
  }
}

/** What was so once and is over is no alarm: nothing is to be done now, but people learn of it. */
export function announcePast(
  draft: Draft,
  rule: KnownRule,
  subject: string,
  { evidence, since, at }: Pick<Finding, 'evidence' | 'at'> & { readonly since: Finding['at'] },
): void {
  // It belongs to an alarm that was up then, or is; one that was over before waits for a person and is about something else.
  const open = findAlarm(draft, subject, rule.kind);
  const covers = (alarm: Alarm): boolean =>
    alarm.clearedAt === null || since <= alarm.clearedAt || isHidden(alarm);
  if (isNotice(rule) || (open !== undefined && covers(open))) return;
  const { kind, latches, priority } = rule;
  const alarm: Alarm = {
    ...normalAlarm({ ...identityOf(rule, subject), priority, latches }, since),
    id: `${subject}.${kind}.${since}.past`,
    count: 1,
    tense: 'learned',
    clearedAt: at,
    evidence,
  };
  draft.alarmChanges.push({ kind: 'learned', at: draft.receivedAt, by: null, reason: null, alarm });
}

/** Puts an alarm behind its first cause or its design logic, or brings it out again. */
export function hideAlarm(
  draft: Draft,
  rule: KnownRule,
  subject: string,
  reason: string | null,
  at: Finding['at'],
): void {
  const alarm = findAlarm(draft, subject, rule.kind);
  if (reason !== null) {
    if (alarm?.suppressedBy !== reason) stepAlarm(draft, rule, subject, { type: 'suppress', at, reason });
  } else if (alarm !== undefined && alarm.suppressedBy !== null)
    stepAlarm(draft, rule, subject, { type: 'unsuppress', at });
}

export const findAlarm = (draft: Draft, subject: string, kind: RuleKind): Alarm | undefined =>
  draft.parts[alarmsKey(subject)]?.[kind];

const NO_ALARMS: SubjectAlarms = {};
/** The open alarms of one subject, by rule. */
export const alarmsOf = ({ parts }: Draft, key: AlarmsKey): SubjectAlarms => parts[key] ?? NO_ALARMS;

/** Whether nothing is to be done for it to be hidden by `reason`, or for null to be shown. */
export const isHiddenBy = (alarm: Alarm | undefined, reason: string | null): boolean =>
  (alarm?.suppressedBy ?? null) === reason;

export const hasAlarms = ({ alarmsKeys }: Draft, key: AlarmsKey): boolean =>
  alarmsKeys.size > 0 && alarmsKeys.has(key);

export function stepAlarm(
  draft: Draft,
  rule: KnownRule,
  subject: string,
  event: AlarmEvent,
): Refusal | undefined {
  const before = findAlarm(draft, subject, rule.kind);
  if (
    before === undefined &&
    (event.type === 'ends' || event.type === 'updates' || event.type === 'unsuppress')
  )
    return undefined;
  const alarm =
    before ??
    normalAlarm({ ...identityOf(rule, subject), priority: rule.priority, latches: rule.latches }, event.at);
  const step = alarmStep(alarm, event);
  draft.alarmChanges.push(...step.changes);
  if (step.alarm !== before) putAlarm(draft, step.alarm);
  return step.refusal;
}

function putAlarm(draft: Draft, alarm: Alarm): void {
  const key = alarmsKey(alarm.subject);
  const { [alarm.rule]: _, ...rest } = draft.parts[key] ?? {};
  const open = alarmStateCode(alarm) === 'A' ? rest : { ...rest, [alarm.rule]: alarm };
  if (Object.keys(open).length > 0) putAlarms(draft, key, open);
  else forget(draft, key);
}
