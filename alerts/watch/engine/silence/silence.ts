// A gateway and the silence of its probes, as time passes. While the gateway itself is in question, its probes are not:
// one cause, one alarm.

import { COMMON_SILENCE, silenceSeconds } from '../../measures/silence-length.ts';
import type { Evaluation } from '../../rule/condition-timer.ts';
import type { Evidence } from '../../rule/finding.ts';
import type { GatewayInput } from '../../rule/rule-input.ts';
import type { ProbeRule } from '../../rule/rule.ts';
import type { RuleKind } from '../../rules/all-rules.ts';
import { applyJudgements, findAlarm, hasAlarms, hideAlarm, SITE } from '../findings/alarms.ts';
import { type Darkness, darknessOf, evaluateDarkLab, isOverdue, nameWhatToLookAt } from './dark-lab.ts';
import { type Draft, editGateway, editProbe, expectProbe, probeOf, siteConditions } from '../state/draft.ts';
import { isOn, isQuiet, judge, type Moment } from '../findings/evaluate.ts';
import { silentProbe } from '../findings/evaluate-probe.ts';
import type { QuietGateway } from '../state/quiet-parts.ts';
import type { ExpectedGateway, ProbePlan, StationPlan } from '../state/lab-plan.ts';
import type { PlannedRule } from '../state/planned-rules.ts';
import type { Conditions, GatewayMemory, ProbeMemory } from '../state/memory.ts';
import { canWaitForMorning, wasHot, whatToLookAt } from './out-of-sight.ts';

/** A rule about the silence of a probe that holds, or has a condition to end. */
interface SilenceEvaluation {
  readonly plan: ProbePlan;
  readonly memory: ProbeMemory;
  readonly planned: PlannedRule<ProbeRule<RuleKind>>;
  readonly evaluation: Evaluation;
}

/** What the silence of its probes shows of a gateway. */
interface Silence {
  readonly evaluations: readonly SilenceEvaluation[];
  readonly silentProbes: number;
  readonly areAllOverdue: boolean;
  /** Null while none of them ever sent anything. */
  readonly lastReadingAt: number | null;
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
  const darkness = lost === undefined ? 'none' : evaluateDarkLab(draft, lost, moment);
  for (const plan of draft.plan.gateways.values()) evaluateGateway(draft, plan, moment, darkness);
}

const BEHIND_LOST = 'behind:gateway-lost';

function evaluateGateway(draft: Draft, plan: ExpectedGateway, moment: Moment, darkness: Darkness): void {
  const { gateway, key } = plan;
  const memory = draft.parts[key] ?? NEVER_SEEN;
  if (isAsQuiet(draft, draft.quiet.gateways[plan.index], memory, moment.at)) return;
  const silence = silenceOf(draft, plan, memory, moment.at);
  const input = new MeasuredGateway(draft, plan, memory, silence, moment.at);
  for (const planned of draft.plan.gatewayRules) {
    const { kind } = planned.rule;
    const evaluation = planned.rule.evaluate(input, planned.values, isOn(memory.conditions, kind));
    if (typeof evaluation === 'string' && memory.conditions[kind] === undefined) continue;
    const own = editGateway(draft, plan);
    const hiddenBy = hiddenReason(draft, kind, gateway, darkness);
    const judgement = judgeTick(own.conditions, planned, gateway, evaluation, moment, hiddenBy);
    if (kind === 'gateway-lost' && judgement?.finding.phase === 'ends')
      nameWhatToLookAt(draft, planned, gateway, stationsOf(plan), moment);
    if (judgement !== null) applyJudgements(draft, [judgement]);
    if (hasAlarms(draft, plan.alarmsKey))
      hideAlarm(draft, planned.rule, gateway, isOn(own.conditions, kind) ? hiddenBy : null, moment.at);
    if (kind === 'gateway-lost' && own.conditions['gateway-lost'] === undefined) own.backAt = moment.at;
  }
  if (silence.evaluations.length === 0) {
    rememberQuiet(draft, plan, moment.at);
    return;
  }
  const own = darknessOf(draft.parts[key]?.conditions['gateway-lost']);
  const cover = own === 'none' || darkness === 'dark' ? darkness : own;
  // From the moment that the gateway is back its probes have their usual time to send again.
  const isJustBack = draft.parts[key]?.backAt === moment.at;
  for (const evaluation of silence.evaluations) {
    const { memory: probe, planned } = evaluation;
    if (isJustBack && probe.conditions[planned.rule.kind] === undefined) continue;
    applySilence(draft, evaluation, cover, moment);
  }
}

/** No rule about it or its probes holds, and none can begin to while one of them sends and nothing else is reported. */
function rememberQuiet(draft: Draft, plan: ExpectedGateway, now: number): void {
  const memory = draft.parts[plan.key] ?? NEVER_SEEN;
  const { gateways, untilOfProbes } = draft.quiet;
  gateways[plan.index] = undefined;
  if (!isQuiet(memory.conditions)) return;
  let until = Number.POSITIVE_INFINITY;
  let sender: ProbePlan | undefined;
  for (const probe of plan.probes) {
    until = Math.min(until, untilOfProbes[probe.index] ?? 0);
    const probeMemory = probeOf(draft, probe);
    if (probeMemory !== undefined && !isOverdue(probeMemory, now)) sender = probe;
  }
  const { isClockUnsteady, lagMillis, online } = memory;
  if (sender !== undefined) gateways[plan.index] = { until, sender, isClockUnsteady, lagMillis, online };
}

function isAsQuiet(
  draft: Draft,
  quiet: QuietGateway | undefined,
  memory: GatewayMemory,
  now: number,
): boolean {
  if (quiet === undefined || now >= quiet.until) return false;
  const sender = probeOf(draft, quiet.sender);
  return (
    sender !== undefined &&
    !isOverdue(sender, now) &&
    quiet.online === memory.online &&
    quiet.lagMillis === memory.lagMillis &&
    quiet.isClockUnsteady === memory.isClockUnsteady
  );
}

/** Apart from the loop, where what it captures would be allocated at every tick. */
const judgeTick = (
  conditions: Conditions,
  planned: PlannedRule,
  subject: string,
  evaluation: Evaluation,
  moment: Moment,
  hiddenBy: string | null,
) => judge(conditions, planned, subject, evaluation, moment, () => hiddenBy);

/** One cause for all of them: the whole lab is dark, or it is the collector's own clock that jumped. */
function hiddenReason(draft: Draft, kind: RuleKind, gateway: string, darkness: Darkness): string | null {
  if (kind === 'gateway-lost') {
    const isShown = findAlarm(draft, gateway, kind)?.suppressedBy === null;
    return darkness === 'dark' || (darkness === 'suspected' && !isShown) ? BEHIND_LOST : null;
  }
  const isOfCollector = isOn(siteConditions(draft.parts, SITE) ?? {}, 'gateway-clock');
  return kind === 'gateway-clock' && isOfCollector ? 'behind:gateway-clock' : null;
}

/** Read off when a rule needs it. */
class MeasuredGateway implements GatewayInput {
  readonly at: number;
  readonly #draft: Draft;
  readonly #plan: ExpectedGateway;
  readonly #memory: GatewayMemory;
  readonly #silence: Silence;

  constructor(draft: Draft, plan: ExpectedGateway, memory: GatewayMemory, silence: Silence, at: number) {
    this.at = at;
    this.#draft = draft;
    this.#plan = plan;
    this.#memory = memory;
    this.#silence = silence;
  }

  get gateway() {
    return this.#plan.gateway;
  }
  get online() {
    return this.#memory.online;
  }
  get changedAt() {
    return this.#memory.changedAt;
  }
  get probes() {
    return this.#plan.probes.length;
  }
  get silentProbes() {
    return this.#silence.silentProbes;
  }
  get allSilent() {
    return this.#silence.silentProbes > 0 && this.#silence.areAllOverdue;
  }
  get lastReadingAt() {
    return this.#silence.lastReadingAt;
  }
  get clockLagMillis() {
    return this.#memory.lagMillis ?? null;
  }
  get isClockUnsteady() {
    return this.#memory.isClockUnsteady ?? false;
  }

  canWait(): boolean {
    return canWaitForMorning(this.#draft, stationsOf(this.#plan), this.at);
  }

  whatToLookAt(): Evidence {
    return whatToLookAt(this.#draft.parts, stationsOf(this.#plan));
  }
}

const stationsOf = ({ probes }: ExpectedGateway): readonly StationPlan[] => [
  ...new Set(probes.map(({ station }) => station)),
];

function applySilence(
  draft: Draft,
  { plan, memory, planned, evaluation }: SilenceEvaluation,
  cover: Darkness,
  moment: Moment,
): void {
  const { kind, hiddenBehind } = planned.rule;
  const covered = hiddenBehind?.includes('gateway-lost') === true ? cover : 'none';
  if (memory.conditions[kind] === undefined && (typeof evaluation === 'string' || covered !== 'none')) return;
  const own = editProbe(draft, plan);
  if (own === undefined) return;
  const reason = covered === 'dark' ? BEHIND_LOST : null;
  const judgement = judge(own.conditions, planned, plan.probe.id, evaluation, moment, () => reason);
  if (judgement !== null) applyJudgements(draft, [judgement]);
  if (hasAlarms(draft, plan.alarmsKey))
    hideAlarm(draft, planned.rule, plan.probe.id, own.conditions[kind] ? reason : null, moment.at);
}

/** The heater that this probe alone watches was on when it was last seen. */
const isUnseenHeat = ({ parts }: Draft, { station }: ProbePlan): boolean =>
  station.isHeater && station.probes.length === 1 && wasHot(parts[station.key]);

const NO_EVALUATIONS: readonly SilenceEvaluation[] = [];

/** One pass over the probes; one that never sent anything is waited for from now on, and is silent after its time. */
function silenceOf(draft: Draft, { probes }: ExpectedGateway, gateway: GatewayMemory, now: number): Silence {
  let evaluations: SilenceEvaluation[] | null = null;
  let silentProbes = 0;
  let areAllOverdue = true;
  let newest = 0;
  // After a lost gateway is back, or the watch itself, probes get their usual time to send again.
  const countsFrom = Math.max(gateway.backAt ?? 0, draft.parts.clock?.awakeAt ?? 0);
  for (const plan of probes) {
    const memory = probeOf(draft, plan) ?? expectProbe(draft, plan, draft.receivedAt);
    if (memory.at > newest) newest = memory.at;
    if (areAllOverdue && !isOverdue(memory, now)) areAllOverdue = false;
    const { untilOfProbes } = draft.quiet;
    if (now < (untilOfProbes[plan.index] ?? 0)) continue;
    const since = Math.max(memory.receivedAt, countsFrom);
    const input = silentProbe(plan, memory, now, since, isUnseenHeat(draft, plan));
    const isOneOfMany = now - since > 1000 * silenceSeconds(COMMON_SILENCE, input.deliversEverySeconds);
    if (isOneOfMany) silentProbes += 1;
    let until = isOneOfMany ? 0 : since + 1000 * COMMON_SILENCE.leastSeconds;
    for (const planned of plan.station.silenceRules) {
      const { kind } = planned.rule;
      const evaluation = planned.rule.evaluate(input, planned.values, isOn(memory.conditions, kind));
      const holds = typeof evaluation !== 'string';
      if (!holds && memory.conditions[kind] === undefined) {
        until = Math.min(until, planned.rule.quietUntil?.(input, planned.values) ?? 0);
        continue;
      }
      until = 0;
      evaluations ??= [];
      evaluations.push({ plan, memory, planned, evaluation });
    }
    untilOfProbes[plan.index] = until;
  }
  return {
    evaluations: evaluations ?? NO_EVALUATIONS,
    silentProbes,
    areAllOverdue,
    lastReadingAt: newest === 0 ? null : newest,
  };
}
