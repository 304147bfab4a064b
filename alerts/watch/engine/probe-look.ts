// The rules about a probe itself look at its own readings and its twins.

import type { ProbeRule } from '../rule/rule.ts';
import type { ProbeSight } from '../rule/rule-input.ts';
import { freshProbes } from './fresh-probes.ts';
import type { PlannedRule, StationPlan } from './lab-plan.ts';
import type { ProbeMemory, StationMemory } from './memory.ts';
import { hasNone, isUp } from './station-look.ts';
import { hide, judge, type Moment } from './tell.ts';
import { alarmsAbout, type Work } from './work.ts';

const NO_TWINS: ProbeSight['twins'] = [];

export function lookAtProbe(
  work: Work,
  plan: StationPlan,
  memory: StationMemory,
  id: string,
  moment: Moment,
): void {
  const probe = memory.probes[id];
  if (probe === undefined) return;
  const twins =
    plan.probes.length > 1 ? freshProbes(plan, memory, moment.at).filter((one) => one.id !== id) : NO_TWINS;
  const isQuiet = hasNone(probe.rules);
  const sight = probeSight(work, plan, id, probe, moment.at, twins);
  const hiddenBy = ({ rule }: PlannedRule<ProbeRule>) => {
    const cause = rule.hiddenBehind?.find((kind) => isUp(memory, kind));
    return cause === undefined ? null : `behind:${cause}`;
  };
  for (const planned of plan.probeRules) {
    const look = planned.rule.look(sight, planned.values);
    if (typeof look === 'string' && (isQuiet || probe.rules[planned.rule.kind] === undefined)) continue;
    judge(work, probe.rules, planned, id, look, moment, () => hiddenBy(planned));
  }
  if (alarmsAbout(work.parts, id) === undefined) return;
  for (const planned of plan.probeRules)
    hide(work, planned.rule, id, probe.rules[planned.rule.kind] ? hiddenBy(planned) : null, moment.at);
}

export function probeSight(
  work: Work,
  plan: StationPlan,
  id: string,
  memory: ProbeMemory,
  at: number,
  twins: ProbeSight['twins'] = NO_TWINS,
  silentSince = memory.newestAt,
): ProbeSight {
  const probe = work.plan.probe.get(id);
  return {
    probe: id,
    station: plan.station,
    gateway: probe?.gateway ?? '',
    at,
    celsius: memory.celsius,
    newestAt: memory.newestAt,
    silentSince,
    periodSeconds: memory.periodSeconds,
    uncertainty: probe?.uncertainty_celsius ?? 0,
    track: memory.track,
    twins,
    calibrationDue: probe?.calibrationDue ?? null,
  };
}
