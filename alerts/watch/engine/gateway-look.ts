// A gateway and the silence of its probes. While the gateway itself is in question, its probes are not: one cause,
// one alarm.

import type { Probe } from '../../../lab/lab.ts';
import { steadyLagMillis } from '../measures/gateway-clock.ts';
import type { GatewaySight } from '../rule/rule-input.ts';
import type { StationPlan } from './lab-plan.ts';
import {
  type GatewayMemory,
  gatewayPart,
  newGateway,
  type ProbeMemory,
  type StationMemory,
} from './memory.ts';
import { probeSight } from './probe-look.ts';
import { hide, judge, type Moment } from './tell.ts';
import { alarmsAbout, awakeAt, editGateway, editStation, part, type Work } from './work.ts';

interface SeenProbe {
  readonly probe: Probe;
  readonly plan: StationPlan;
  readonly memory: ProbeMemory;
}

export function lookAtGateway(work: Work, gateway: string, probes: readonly Probe[], moment: Moment): void {
  const seen = seenProbes(work, probes);
  const memory = part<GatewayMemory>(work.parts, gatewayPart(gateway)) ?? newGateway();
  const looks = seen.flatMap((one) => looksOf(work, one, memory, moment.at));
  const silent = looks.filter(
    ({ planned, look }) => planned.rule.kind === 'probe-silent' && typeof look !== 'string',
  ).length;
  const sight: GatewaySight = {
    gateway,
    at: moment.at,
    online: memory.online,
    changedAt: memory.changedAt,
    probes: seen.length,
    silentProbes: silent,
    allSilent: silent > 0 && seen.every((one) => isOverdue(one.memory, moment.at - clockLag(memory))),
    lastReadingAt: seen.length === 0 ? null : Math.max(...seen.map((one) => one.memory.newestAt)),
    clock: memory.clock,
  };
  for (const planned of work.plan.gatewayRules) {
    const look = planned.rule.look(sight, planned.values);
    const held = memory.rules[planned.rule.kind];
    if (typeof look === 'string' && held === undefined) continue;
    const own = editGateway(work, gateway);
    judge(work, own.rules, planned, gateway, look, moment, () => null);
    const isOver = planned.rule.kind === 'gateway-lost' && own.rules['gateway-lost'] === undefined;
    if (isOver) own.backAt = moment.at;
  }
  const after = part<GatewayMemory>(work.parts, gatewayPart(gateway));
  const isLost = after?.rules['gateway-lost'] !== undefined;
  for (const { one, planned, look } of looks) {
    const { kind, hiddenBehind } = planned.rule;
    const behind = isLost && hiddenBehind?.includes('gateway-lost') === true;
    const held = one.memory.rules[kind];
    if (held === undefined && (typeof look === 'string' || behind)) continue;
    const own = editStation(work, one.plan.partName).probes[one.probe.id];
    if (own === undefined) continue;
    const reason = behind ? 'behind:gateway-lost' : null;
    judge(work, own.rules, planned, one.probe.id, look, moment, () => reason);
    if (alarmsAbout(work.parts, one.probe.id) !== undefined)
      hide(work, planned.rule, one.probe.id, own.rules[kind] ? reason : null, moment.at);
  }
}

function seenProbes(work: Work, probes: readonly Probe[]): readonly SeenProbe[] {
  const seen: SeenProbe[] = [];
  for (const probe of probes) {
    const plan = work.plan.stationOfProbe.get(probe.id);
    const memory = plan && part<StationMemory>(work.parts, plan.partName)?.probes[probe.id];
    if (plan !== undefined && memory !== undefined) seen.push({ probe, plan, memory });
  }
  return seen;
}

const clockLag = (gateway: GatewayMemory): number => steadyLagMillis(gateway.clock) ?? 0;

/** A reading should have come by now. */
const isOverdue = (memory: ProbeMemory, now: number): boolean =>
  now - memory.newestAt > 1500 * memory.periodSeconds + 10_000;

function looksOf(work: Work, one: SeenProbe, gateway: GatewayMemory, now: number) {
  // After a lost gateway is back, or the watch itself, probes get their usual time to speak again.
  const spokeAt = one.memory.newestAt + clockLag(gateway);
  const silentSince = Math.max(spokeAt, gateway.backAt ?? 0, awakeAt(work.parts));
  const sight = probeSight(work, one.plan, one.probe.id, one.memory, now, undefined, silentSince);
  return one.plan.silenceRules.map((planned) => ({
    one,
    planned,
    look: planned.rule.look(sight, planned.values),
  }));
}
