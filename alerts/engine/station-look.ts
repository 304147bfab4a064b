// Every rule of a station looks once at what was measured.

import { celsiusPerHour } from '../measures/trend.ts';
import type { RuleKind } from '../rules/rule-kind.ts';
import type { StationSight } from '../rules/sight.ts';
import type { PlannedRule, StationPlan } from './lab-plan.ts';
import type { StationMemory } from './memory.ts';
import { hide, judge, type Moment } from './tell.ts';
import { alarmsOf, type Work } from './work.ts';

export function lookAtStation(work: Work, plan: StationPlan, memory: StationMemory, moment: Moment): void {
  const sight = sightOf(work, plan, memory);
  const id = plan.station.id;
  const isUp = (kind: RuleKind) => memory.rules[kind]?.phase === 'on';
  const hiddenBy = (planned: PlannedRule<StationSightRule>) => () => hiddenReason(planned, sight, isUp);
  for (const planned of plan.rules)
    judge(
      work,
      memory.rules,
      planned,
      id,
      planned.rule.look(sight, planned.values),
      moment,
      hiddenBy(planned),
    );
  if (alarmsOf(work.parts)[id] === undefined) return;
  for (const planned of plan.rules) hide(work, planned.rule, id, whileUp(planned), moment.at);

  function whileUp(planned: PlannedRule<StationSightRule>): string | null {
    return isUp(planned.rule.kind) ? hiddenReason(planned, sight, isUp) : null;
  }
}

type StationSightRule = StationPlan['rules'][number]['rule'];

function hiddenReason(
  { rule, values }: PlannedRule<StationSightRule>,
  sight: StationSight,
  isUp: (kind: RuleKind) => boolean,
): string | null {
  const cause = rule.hiddenBehind?.find(isUp);
  return cause !== undefined ? `behind:${cause}` : (rule.suppressedBy?.(sight, values) ?? null);
}

function sightOf(_work: Work, plan: StationPlan, memory: StationMemory): StationSight {
  return {
    station: plan.station,
    limits: plan.limits,
    wax: plan.wax,
    at: memory.at,
    celsius: memory.celsius,
    uncertainty: memory.uncertainty,
    celsiusPerHour: celsiusPerHour(memory.trend),
    activity: memory.activity ?? { kind: 'cold' },
  };
}
