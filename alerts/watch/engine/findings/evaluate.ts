// Rules over what was measured: each is evaluated once, its condition is timed, and what began, grew or ended is handed
// on as a judgement. Nothing here steps an alarm.

import { conditionStep, type ConditionMoment, type Evaluation } from '../../rule/condition-timer.ts';
import { identityOf, type Judgement } from './alarms.ts';
import type { PlannedRule } from '../state/planned-rules.ts';
import type { Conditions, SubjectAlarms } from '../state/memory.ts';
import type { RuleKind } from '../../rules/all-rules.ts';

export type Moment = ConditionMoment;

/** Steps the condition of one rule; null when nothing began, grew or ended. */
export function judge(
  conditions: Conditions,
  { rule, times }: PlannedRule,
  subject: string,
  evaluation: Evaluation,
  moment: Moment,
  hiddenBy: () => string | null,
): Judgement | null {
  const condition = conditions[rule.kind];
  if (condition === undefined && typeof evaluation === 'string') return null;
  const step = conditionStep(condition ?? null, evaluation, moment, times);
  if (step.state === null) delete conditions[rule.kind];
  else conditions[rule.kind] = step.state;
  if (step.reported === null) return null;
  const finding = { ...identityOf(rule, subject), ...step.reported, at: moment.at };
  return { rule, finding, hiddenBy: hiddenBy() };
}

/** Nothing pending and nothing on: nearly always so. */
export function isQuiet(conditions: Conditions): boolean {
  for (const _ in conditions) return false;
  return true;
}

/** Where nothing holds, and nothing that is open is hidden, all is shown as it should be. */
export function isAllShown(conditions: Conditions, open: SubjectAlarms): boolean {
  if (!isQuiet(conditions)) return false;
  for (const kind in open) if (open[kind as RuleKind]?.suppressedBy !== null) return false;
  return true;
}

export const isOn = (conditions: Conditions, kind: RuleKind): boolean => conditions[kind]?.phase === 'on';

/** It began and is gone at present; over once it was gone for its off-delay. */
export const isPassing = (conditions: Conditions, kind: RuleKind): boolean => {
  const condition = conditions[kind];
  return condition?.phase === 'on' && condition.goneSince !== null;
};

/** The first cause that is on among those that a rule hides behind. */
export const causeOf = (
  conditions: Conditions,
  hiddenBehind: readonly RuleKind[] | undefined,
): string | null => {
  const cause = hiddenBehind?.find((kind) => isOn(conditions, kind));
  return cause === undefined ? null : `behind:${cause}`;
};
