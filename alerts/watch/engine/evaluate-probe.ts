// The rules about a probe itself, over its own readings and those of its twins.

import type { ProbeInput } from '../rule/rule-input.ts';
import type { ProbeRule } from '../rule/rule.ts';
import type { RuleKind } from '../rules/all-rules.ts';
import { applyJudgements, hasAlarms, hideAlarm, type Judgement } from './alarms.ts';
import type { Draft } from './draft.ts';
import { causeOf, isQuiet, judge, type Moment } from './evaluate.ts';
import { freshProbes } from './freshness.ts';
import type { PlannedRule, ProbePlan } from './lab-plan.ts';
import type { ProbeMemory, StationMemory } from './memory.ts';

const NO_TWINS: ProbeInput['twins'] = [];

export function evaluateProbe(
  draft: Draft,
  plan: ProbePlan,
  memory: ProbeMemory,
  station: StationMemory,
  moment: Moment,
): void {
  const { id } = plan.probe;
  const twins =
    plan.station.probes.length > 1
      ? freshProbes(plan.station, draft.parts, moment.at).filter((twin) => twin.id !== id)
      : NO_TWINS;
  const input = probeInput(plan, memory, moment.at, station.activity?.kind === 'hot', twins);
  const quiet = isQuiet(memory.conditions);
  const hiddenBy = ({ rule }: PlannedRule<ProbeRule<RuleKind>>) =>
    causeOf(station.conditions, rule.hiddenBehind);
  let judgements: Judgement[] | null = null;
  for (const planned of plan.station.probeRules) {
    const evaluation = planned.rule.evaluate(
      input,
      planned.values,
      memory.conditions[planned.rule.kind]?.phase === 'on',
    );
    if (typeof evaluation === 'string' && (quiet || memory.conditions[planned.rule.kind] === undefined))
      continue;
    const judgement = judge(memory.conditions, planned, id, evaluation, moment, () => hiddenBy(planned));
    if (judgement === null) continue;
    judgements ??= [];
    judgements.push(judgement);
  }
  if (judgements !== null) applyJudgements(draft, judgements);
  if (!hasAlarms(draft, plan.alarmsKey)) return;
  for (const planned of plan.station.probeRules)
    hideAlarm(
      draft,
      planned.rule,
      id,
      memory.conditions[planned.rule.kind] ? hiddenBy(planned) : null,
      moment.at,
    );
}

/** `silentSince`: from when its silence counts; by default its newest reading. */
export const probeInput = (
  { probe, station }: ProbePlan,
  memory: ProbeMemory,
  at: number,
  isAtWork = false,
  twins: ProbeInput['twins'] = NO_TWINS,
  silentSince = memory.receivedAt,
): ProbeInput => ({
  probe: probe.id,
  station: station.station,
  gateway: probe.gateway,
  at,
  celsius: memory.celsius,
  newestAt: memory.at,
  silentSince,
  periodSeconds: memory.periodSeconds,
  uncertainty: probe.uncertainty_celsius,
  signal: memory.signal,
  isAtWork,
  twins,
  calibrationDue: probe.calibrationDue ?? null,
});
