// What time alone brings about: probes and gateways fall silent, shelved alarms come back. Looked at on every tick
// and on every word of a gateway; `now` is the arrival of the entry, never the machine's clock.

import type { Probe } from '../../lab/lab.ts';
import type { EpochMillis } from '../../wax/units.ts';
import { ALL_RULES } from '../rules/all-rules.ts';
import type { GatewaySight, ProbeSight } from '../rules/sight.ts';
import type { StationPlan } from './lab-plan.ts';
import {
  type GatewayMemory,
  gatewayPart,
  newGateway,
  type ProbeMemory,
  type StationMemory,
} from './memory.ts';
import { hide, judge, type Moment, stepAlarm } from './tell.ts';
import { alarmsOf, editGateway, editStation, part, type Work } from './work.ts';

export function takePassingTime(work: Work): void {
  const moment: Moment = { at: work.receivedAt, tense: 'now', afterGap: false };
  for (const [gateway, probes] of work.plan.gateways) lookAtGateway(work, gateway, probes, moment);
  bringBack(work, moment.at);
}

interface SeenProbe {
  readonly probe: Probe;
  readonly plan: StationPlan;
  readonly memory: ProbeMemory;
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

function lookAtGateway(work: Work, gateway: string, probes: readonly Probe[], moment: Moment): void {
  const seen = seenProbes(work, probes);
  const memory = part<GatewayMemory>(work.parts, gatewayPart(gateway)) ?? newGateway();
  const looks = seen.map((one) => lookAtSilence(one, memory, moment.at));
  const silent = looks.filter((look) => typeof look.look !== 'string').length;
  const sight: GatewaySight = {
    gateway,
    at: moment.at,
    online: memory.online,
    changedAt: memory.changedAt,
    probes: seen.length,
    silentProbes: silent,
    allSilent: silent > 0 && seen.every((one) => isOverdue(one.memory, moment.at)),
    lastReadingAt: seen.length === 0 ? null : Math.max(...seen.map((one) => one.memory.newestAt)),
  };
  let isLost = false;
  for (const planned of work.plan.gatewayRules) {
    const look = planned.rule.look(sight, planned.values);
    if (typeof look !== 'string' || memory.rules[planned.rule.kind] !== undefined) {
      const own = editGateway(work, gateway);
      judge(work, own.rules, planned, gateway, look, moment, () => null);
      if (planned.rule.kind === 'gateway-lost') {
        const state = own.rules['gateway-lost'];
        isLost = state !== undefined;
        if (state === undefined) own.backAt = moment.at;
      }
    }
  }
  // While the gateway itself is in question, its probes are not: one cause, one alarm.
  for (const { one, planned, look } of looks) {
    const held = one.memory.rules[planned.rule.kind];
    if (typeof look !== 'string' ? held === undefined && isLost : held === undefined) continue;
    const own = editStation(work, one.plan.partName).probes[one.probe.id];
    if (own === undefined) continue;
    const reason = isLost ? 'behind:gateway-lost' : null;
    judge(work, own.rules, planned, one.probe.id, look, moment, () => reason);
    hide(work, planned.rule, one.probe.id, own.rules[planned.rule.kind] ? reason : null, moment.at);
  }
}

/** A reading should have come by now. */
const isOverdue = (memory: ProbeMemory, now: number): boolean =>
  now - memory.newestAt > 1500 * memory.periodSeconds + 10_000;

function lookAtSilence(one: SeenProbe, gateway: GatewayMemory, now: EpochMillis) {
  const planned = one.plan.silenceRules[0];
  if (planned === undefined) throw new Error('lookAtSilence: silence of probes cannot be switched off');
  const sight: ProbeSight = {
    probe: one.probe.id,
    station: one.plan.station,
    gateway: one.probe.gateway,
    at: now,
    celsius: one.memory.celsius,
    // After a lost gateway is back, its probes get their usual time to speak again.
    newestAt: Math.max(one.memory.newestAt, gateway.backAt ?? 0),
    periodSeconds: one.memory.periodSeconds,
  };
  return { one, planned, look: planned.rule.look(sight, planned.values) };
}

/** Shelved alarms whose time is up; alarms of what the lab has no longer. */
function bringBack(work: Work, at: EpochMillis): void {
  for (const [subject, alarms] of Object.entries(alarmsOf(work.parts)))
    for (const alarm of Object.values(alarms)) {
      const rule = ALL_RULES.find(({ kind }) => kind === alarm.rule);
      if (rule === undefined) continue;
      if (alarm.shelvedUntil !== null) stepAlarm(work, rule, subject, { type: 'time', at });
    }
}
