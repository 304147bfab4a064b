// A gateway and the silence of its probes, as time passes. While the gateway itself is in question, its probes are not:
// one cause, one alarm.

import type { Evaluation } from '../rule/condition-timer.ts';
import type { GatewayInput } from '../rule/rule-input.ts';
import type { ProbeRule } from '../rule/rule.ts';
import type { RuleKind } from '../rules/all-rules.ts';
import { applyJudgements, hasAlarms, hideAlarm, SITE } from './alarms.ts';
import {
  type Draft,
  editGateway,
  editProbe,
  editSiteConditions,
  expectProbe,
  siteConditions,
} from './draft.ts';
import { isOn, judge, type Moment } from './evaluate.ts';
import { probeInput } from './evaluate-probe.ts';
import type { PlannedRule, ProbePlan } from './lab-plan.ts';
import { type GatewayMemory, gatewayKey, type ProbeMemory } from './memory.ts';

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
  for (const [gateway, probes] of draft.plan.gateways) evaluateGateway(draft, gateway, probes, moment);
  const lost = draft.plan.gatewayRules.find(({ rule }) => rule.kind === 'gateway-lost');
  if (lost !== undefined && draft.plan.gateways.size > 1) evaluateAllGateways(draft, lost, moment);
}

function evaluateGateway(draft: Draft, gateway: string, probes: readonly ProbePlan[], moment: Moment): void {
  const seen = expectedProbes(draft, probes);
  const memory = draft.parts[gatewayKey(gateway)] ?? NEVER_SEEN;
  const silences = seen.flatMap((probe) => evaluateProbeSilence(draft, probe, memory, moment.at));
  const input = gatewayInput(gateway, memory, seen, silences, moment.at);
  for (const planned of draft.plan.gatewayRules) {
    const { kind } = planned.rule;
    const evaluation = planned.rule.evaluate(input, planned.values, isOn(memory.conditions, kind));
    if (typeof evaluation === 'string' && memory.conditions[kind] === undefined) continue;
    const own = editGateway(draft, gatewayKey(gateway));
    const judgement = judge(own.conditions, planned, gateway, evaluation, moment, () => null);
    if (judgement !== null) applyJudgements(draft, [judgement]);
    if (kind === 'gateway-lost' && own.conditions['gateway-lost'] === undefined) own.backAt = moment.at;
  }
  const isLost = draft.parts[gatewayKey(gateway)]?.conditions['gateway-lost'] !== undefined;
  for (const silence of silences) applySilence(draft, silence, isLost, moment);
}

function gatewayInput(
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
    lastReadingAt: seen.length === 0 ? null : Math.max(...seen.map((probe) => probe.memory.at)),
    clockLagMillis: memory.lagMillis ?? null,
  };
}

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
  const reason = behind ? 'behind:gateway-lost' : null;
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

/** A reading should have come by now. */
const isOverdue = (memory: ProbeMemory, now: number): boolean =>
  now - memory.receivedAt > 1500 * memory.periodSeconds + 10_000;

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

/** When every gateway is lost, the power or the network of the lab is: one cause, one alarm. */
function evaluateAllGateways(
  draft: Draft,
  planned: Draft['plan']['gatewayRules'][number],
  moment: Moment,
): void {
  const gateways = [...draft.plan.gateways];
  const isLost = (gateway: string) =>
    isOn(draft.parts[gatewayKey(gateway)]?.conditions ?? {}, 'gateway-lost');
  const allLost = gateways.every(([gateway]) => isLost(gateway));
  if (!allLost && siteConditions(draft.parts, SITE)?.['gateway-lost'] === undefined) return;
  const probes = gateways.reduce((sum, [, ofGateway]) => sum + ofGateway.length, 0);
  const evaluation = allLost
    ? { evidence: { since_at: moment.at, probes_count: probes, how: 'all-gateways' } }
    : ('gone' as const);
  // Each of them has waited for its own delay already.
  const atOnce = { ...planned, times: { ...planned.times, onDelayMillis: 0 } };
  const judgement = judge(editSiteConditions(draft, SITE), atOnce, SITE, evaluation, moment, () => null);
  if (judgement !== null) applyJudgements(draft, [judgement]);
  for (const [gateway] of gateways)
    hideAlarm(
      draft,
      planned.rule,
      gateway,
      allLost && isLost(gateway) ? 'behind:gateway-lost' : null,
      moment.at,
    );
}
