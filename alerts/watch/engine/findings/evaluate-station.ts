// The rules of a station over what was measured of it.

import type { Evaluation } from '../../rule/condition-timer.ts';
import type { StationInput } from '../../rule/rule-input.ts';
import type { StationRule } from '../../rule/rule.ts';
import type { RuleKind } from '../../rules/all-rules.ts';
import { alarmsOf, applyJudgements, hasAlarms, hideAlarm, isHiddenBy, type Judgement } from './alarms.ts';
import type { Draft } from '../state/draft.ts';
import { causeOf, isAllShown, isOn, isPassing, isQuiet, judge, type Moment } from './evaluate.ts';
import type { StationPlan } from '../state/lab-plan.ts';
import type { PlannedRule } from '../state/planned-rules.ts';
import type { Conditions, StationMemory } from '../state/memory.ts';
import { drawQuietBounds, dueRules } from '../state/quiet-station.ts';
import { stationInput } from './station-input.ts';

const NONE: readonly Judgement[] = [];

function evaluateRules(
  rules: StationPlan['rules'],
  { station: { id } }: StationPlan,
  conditions: Conditions,
  input: StationInput,
  moment: Moment,
): readonly Judgement[] {
  const quiet = isQuiet(conditions);
  let judgements: Judgement[] | null = null;
  for (const planned of rules) {
    const evaluation = planned.rule.evaluate(
      input,
      planned.values,
      !quiet && isOn(conditions, planned.rule.kind),
    );
    if (typeof evaluation === 'string' && (quiet || conditions[planned.rule.kind] === undefined)) continue;
    const judgement = judgeStation(id, planned, conditions, input, evaluation, moment);
    if (judgement === null) continue;
    judgements ??= [];
    judgements.push(judgement);
  }
  return judgements ?? NONE;
}

/** Apart from the loop, where what it captures would be allocated for every rule of every reading. */
const judgeStation = (
  id: string,
  planned: PlannedRule<StationRule<RuleKind>>,
  conditions: Conditions,
  input: StationInput,
  evaluation: Evaluation,
  moment: Moment,
): Judgement | null =>
  judge(conditions, planned, id, evaluation, moment, () => hiddenReason(planned, input, conditions));

/** Evaluates the rules of the station that are due, steps its alarms, and shows or hides those that are open. */
export function evaluateStation(
  draft: Draft,
  plan: StationPlan,
  memory: StationMemory,
  moment: Moment,
): void {
  const { id } = plan.station;
  // After a tick all of them are there, and to look one up by its name costs more than to count.
  if (draft.stations.size < draft.plan.stations.size) draft.stations.add(id);
  const due = dueRules(draft.quiet.stations[plan.index], plan, memory, draft.parts);
  if (due?.length === 0) {
    if (!hasAlarms(draft, plan.alarmsKey)) return;
    if (isAllShown(memory.conditions, alarmsOf(draft, plan.alarmsKey))) return;
  }
  const input = stationInput(draft.lab, plan, memory, draft.parts);
  const judgements = evaluateRules(due ?? plan.rules, plan, memory.conditions, input, moment);
  if (due === null) draft.quiet.stations[plan.index] = drawQuietBounds(plan, memory, input);
  applyJudgements(draft, judgements);
  if (!hasAlarms(draft, plan.alarmsKey)) return;
  const open = alarmsOf(draft, plan.alarmsKey);
  if (isAllShown(memory.conditions, open)) return;
  for (const planned of plan.rules) {
    const { rule } = planned;
    const holds = isOn(memory.conditions, rule.kind);
    const alarm = open[rule.kind];
    if (!holds && alarm === undefined) continue;
    const reason = holds ? hiddenReason(planned, input, memory.conditions) : null;
    if (isHiddenBy(alarm, reason)) continue;
    // What is passing is not brought out for its last minutes, when its cause is over first.
    if (reason === null && isPassing(memory.conditions, rule.kind)) continue;
    hideAlarm(draft, rule, id, reason, moment.at);
  }
}

const hiddenReason = (
  { rule, values }: PlannedRule<StationRule<RuleKind>>,
  input: StationInput,
  conditions: Conditions,
): string | null => causeOf(conditions, rule.hiddenBehind) ?? rule.suppressedBy?.(input, values) ?? null;
