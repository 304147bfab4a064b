// A gateway and the silence of its probes, as time passes. While the gateway itself is in question, its probes are not:
// one cause, one alarm.

import type { Evaluation } from '../rule/condition-timer.ts';
import type { GatewayInput } from '../rule/rule-input.ts';
import type { ProbeRule } from '../rule/rule.ts';
import type { RuleKind } from '../rules/all-rules.ts';
import { applyJudgements, hasAlarms, hideAlarm, SITE } from './alarms.ts';
import { evaluateDarkLab, isOverdue, nameWhatToLookAt } from './dark-lab.ts';
import { type Draft, editGateway, editProbe, expectProbe, siteConditions } from './draft.ts';
import { isOn, judge, type Moment } from './evaluate.ts';
import { probeInput } from './evaluate-probe.ts';
import type { PlannedRule, ProbePlan, StationPlan } from './lab-plan.ts';
import { alarmsKey, type GatewayMemory, gatewayKey, type ProbeMemory } from './memory.ts';
import { canWaitForMorning, whatToLookAt } from './out-of-sight.ts';

interface ExpectedProbe {
  readonly plan: ProbePlan;
  readonly memory: ProbeMemory;
}
interface SilenceEvaluation extends ExpectedProbe {
  readonly planned: PlannedRule<ProbeRule<RuleKind>>;
  readonly evaluation: Evaluation;
}

const NEVER_SEEN: GatewayMemory = {
  online: null,
  changedAt: null,
  receivedAt: null,
  backAt: null,
  conditions: {},
};

/** Evaluates what time alone brings about at every gateway, and at all of them together. */
export function evaluateSilence(draft: Draft, moment: Moment): void {
  const lost = draft.plan.gatewayRules.find(({ rule }) => rule.kind === 'gateway-lost');
  const isDark = lost !== undefined && evaluateDarkLab(draft, lost, moment);
  for (const [gateway, probes] of draft.plan.gateways)
    evaluateGateway(draft, gateway, probes, moment, isDark);
}

const BEHIND_LOST = 'behind:gateway-lost';

function evaluateGateway(
  draft: Draft,
  gateway: string,
  probes: readonly ProbePlan[],
  moment: Moment,
  isDark: boolean,
): void {
  const expected = expectedProbes(draft, probes);
  const memory = draft.parts[gatewayKey(gateway)] ?? NEVER_SEEN;
  const silences = expected.flatMap((probe) => evaluateProbeSilence(draft, probe, memory, moment.at));
  const input = gatewayInput(draft, gateway, memory, expected, silences, moment.at);
  for (const planned of draft.plan.gatewayRules) {
    const { kind } = planned.rule;
    const evaluation = planned.rule.evaluate(input, planned.values, isOn(memory.conditions, kind));
    if (typeof evaluation === 'string' && memory.conditions[kind] === undefined) continue;
    const own = editGateway(draft, gatewayKey(gateway));
    const hiddenBy = hiddenReason(draft, kind, isDark);
    const judgement = judge(own.conditions, planned, gateway, evaluation, moment, () => hiddenBy);
    if (kind === 'gateway-lost' && judgement?.finding.phase === 'ends')
      nameWhatToLookAt(draft, planned, gateway, stationsOf(expected), moment);
    if (judgement !== null) applyJudgements(draft, [judgement]);
    if (hasAlarms(draft, alarmsKey(gateway)))
      hideAlarm(draft, planned.rule, gateway, isOn(own.conditions, kind) ? hiddenBy : null, moment.at);
    if (kind === 'gateway-lost' && own.conditions['gateway-lost'] === undefined) own.backAt = moment.at;
  }
  const isLost = draft.parts[gatewayKey(gateway)]?.conditions['gateway-lost'] !== undefined;
  for (const silence of silences) applySilence(draft, silence, isLost || isDark, moment);
}

/** One cause for all of them: the whole lab is dark, or it is the collector's own clock that jumped. */
function hiddenReason(draft: Draft, kind: RuleKind, isDark: boolean): string | null {
  if (kind === 'gateway-lost') return isDark ? BEHIND_LOST : null;
  const isOfCollector = isOn(siteConditions(draft.parts, SITE) ?? {}, 'gateway-clock');
  return kind === 'gateway-clock' && isOfCollector ? 'behind:gateway-clock' : null;
}

function gatewayInput(
  draft: Draft,
  gateway: string,
  memory: GatewayMemory,
  seen: readonly ExpectedProbe[],
  silences: readonly SilenceEvaluation[],
  at: number,
): GatewayInput {
  const silent = silences.filter(
    ({ planned, evaluation }) => planned.rule.kind === 'probe-silent' && typeof evaluation !== 'string',
  ).length;
  return {
    gateway,
    at,
    online: memory.online,
    changedAt: memory.changedAt,
    probes: seen.length,
    silentProbes: silent,
    allSilent: silent > 0 && seen.every((probe) => isOverdue(probe.memory, at)),
    lastReadingAt: Math.max(0, ...seen.map((probe) => probe.memory.at)) || null,
    canWait: () => canWaitForMorning(draft, stationsOf(seen), at),
    whatToLookAt: () => whatToLookAt(draft.parts, stationsOf(seen)),
    clockLagMillis: memory.lagMillis ?? null,
  };
}

const stationsOf = (probes: readonly ExpectedProbe[]): readonly StationPlan[] => [
  ...new Set(probes.map(({ plan }) => plan.station)),
];

function applySilence(
  draft: Draft,
  { plan, memory, planned, evaluation }: SilenceEvaluation,
  isLost: boolean,
  moment: Moment,
): void {
  const { kind, hiddenBehind } = planned.rule;
  const behind = isLost && hiddenBehind?.includes('gateway-lost') === true;
  if (memory.conditions[kind] === undefined && (typeof evaluation === 'string' || behind)) return;
  const own = editProbe(draft, plan.key);
  if (own === undefined) return;
  const reason = behind ? BEHIND_LOST : null;
  const judgement = judge(own.conditions, planned, plan.probe.id, evaluation, moment, () => reason);
  if (judgement !== null) applyJudgements(draft, [judgement]);
  if (hasAlarms(draft, plan.alarmsKey))
    hideAlarm(draft, planned.rule, plan.probe.id, own.conditions[kind] ? reason : null, moment.at);
}

/** One that never sent anything is waited for from now on, and is silent after its time like any other. */
function expectedProbes(draft: Draft, probes: readonly ProbePlan[]): readonly ExpectedProbe[] {
  return probes.map((plan) => ({
    plan,
    memory: draft.parts[plan.key] ?? expectProbe(draft, plan.key, draft.receivedAt),
  }));
}

function evaluateProbeSilence(
  draft: Draft,
  { plan, memory }: ExpectedProbe,
  gateway: GatewayMemory,
  now: number,
): readonly SilenceEvaluation[] {
  // After a lost gateway is back, or the watch itself, probes get their usual time to send again.
  const silentSince = Math.max(memory.receivedAt, gateway.backAt ?? 0, draft.parts.clock?.awakeAt ?? 0);
  const input = probeInput(plan, memory, now, false, undefined, silentSince);
  return plan.station.silenceRules.map((planned) => ({
    plan,
    memory,
    planned,
    evaluation: planned.rule.evaluate(input, planned.values, isOn(memory.conditions, planned.rule.kind)),
  }));
}
