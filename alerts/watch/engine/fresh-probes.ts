// The probes of a station that have a fresh value, and the value they make together.

import type { FreshProbe } from '../rule/rule-input.ts';
import { staleMillis } from './freshness.ts';
import type { StationPlan } from './lab-plan.ts';
import type { StationMemory } from './memory.ts';

export function freshProbes(plan: StationPlan, memory: StationMemory, at: number): readonly FreshProbe[] {
  const oldest = at - staleMillis(memory);
  const fresh: FreshProbe[] = [];
  for (const probe of plan.probes) {
    const seen = memory.probes[probe.id];
    if (seen !== undefined && seen.newestAt >= oldest)
      fresh.push({ id: probe.id, celsius: seen.celsius, uncertainty: probe.uncertainty_celsius });
  }
  return fresh;
}

/** The hottest fresh probe of a heater, the mean of the fresh ones of a place. */
export function combine(plan: StationPlan, memory: StationMemory, at: number): void {
  const only = plan.probes.length === 1 ? plan.probes[0] : undefined;
  const seen = only && memory.probes[only.id];
  if (only !== undefined && seen !== undefined) {
    memory.at = at;
    memory.celsius = seen.celsius;
    memory.uncertainty = only.uncertainty_celsius;
    return;
  }
  let hottest: FreshProbe | null = null;
  let sum = 0;
  let widest = 0;
  const fresh = freshProbes(plan, memory, at);
  for (const probe of fresh) {
    if (hottest === null || probe.celsius > hottest.celsius) hottest = probe;
    sum += probe.celsius;
    widest = Math.max(widest, probe.uncertainty);
  }
  if (hottest === null) return;
  const takesHottest = plan.kindFacts.combinesProbes === 'hottest';
  memory.at = at;
  memory.celsius = takesHottest ? hottest.celsius : sum / fresh.length;
  memory.uncertainty = takesHottest ? hottest.uncertainty : widest;
}
