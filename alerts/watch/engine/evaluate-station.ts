// The rules of a station over what was measured of it.

import type { StationInput } from '../rule/rule-input.ts';
import type { StationRule } from '../rule/rule.ts';
import type { RuleKind } from '../rules/all-rules.ts';
import { applyJudgements, hasAlarms, hideAlarm, type Judgement } from './alarms.ts';
import type { Draft } from './draft.ts';
import { causeOf, isOn, isQuiet, judge, type Moment } from './evaluate.ts';
import type { PlannedRule, StationPlan } from './lab-plan.ts';
import type { Conditions, StationMemory } from './memory.ts';

const NONE: readonly Judgement[] = [];

function evaluateRules(
  plan: StationPlan,
  conditions: Conditions,
  input: StationInput,
  moment: Moment,
): readonly Judgement[] {
  const quiet = isQuiet(conditions);
  let judgements: Judgement[] | null = null;
  for (const planned of plan.rules) {
    const evaluation = planned.rule.evaluate(
      input,
      planned.values,
      !quiet && isOn(conditions, planned.rule.kind),
    );
    if (typeof evaluation === 'string' && (quiet || conditions[planned.rule.kind] === undefined)) continue;
    const hiddenBy = () => hiddenReason(planned, input, conditions);
    const judgement = judge(conditions, planned, plan.station.id, evaluation, moment, hiddenBy);
    if (judgement === null) continue;
    judgements ??= [];
    judgements.push(judgement);
  }
  return judgements ?? NONE;
}

/** Evaluates the rules of the station, steps its alarms, and shows or hides those that are open. */
export function evaluateStation(
  draft: Draft,
  plan: StationPlan,
  memory: StationMemory,
  input: StationInput,
  moment: Moment,
): void {
  const { id } = plan.station;
  draft.stations.add(id);
  applyJudgements(draft, evaluateRules(plan, memory.conditions, input, moment));
  if (!hasAlarms(draft, plan.alarmsKey)) return;
  for (const planned of plan.rules) {
    const reason = isOn(memory.conditions, planned.rule.kind)
      ? hiddenReason(planned, input, memory.conditions)
      : null;
    hideAlarm(draft, planned.rule, id, reason, moment.at);
  }
}

const hiddenReason = (
  { rule, values }: PlannedRule<StationRule<RuleKind>>,
  input: StationInput,
  conditions: Conditions,
): string | null => causeOf(conditions, rule.hiddenBehind) ?? rule.suppressedBy?.(input, values) ?? null;
