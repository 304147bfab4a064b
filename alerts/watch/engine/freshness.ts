// The probes of a station that have a fresh value, the value they make together, and when it is too old to be live.

import type { FreshProbe } from '../rule/rule-input.ts';
import type { PlannedProbe, StationPlan } from './lab-plan.ts';
import type { ProbeMemory, StationMemory, WatchState } from './memory.ts';

/** Stale after three usual periods, never less than a minute. Common practice. */
const STALE_PERIODS = 3;
const STALE_LEAST_SECONDS = 60;

/** Milliseconds after which the value of the station is stale, by its slowest probe. */
export function staleMillis(plan: StationPlan, state: WatchState): number {
  let slowest = 0;
  for (const { key } of plan.probes) {
    const period = state[key]?.periodSeconds ?? 0;
    if (period > slowest) slowest = period;
  }
  return staleAfter(slowest);
}

/** The same by the period of its slowest probe. */
export const staleAfter = (periodSeconds: number): number =>
  1000 * Math.max(STALE_LEAST_SECONDS, STALE_PERIODS * periodSeconds);

export function freshProbes(plan: StationPlan, state: WatchState, at: number): readonly FreshProbe[] {
  const oldest = at - staleMillis(plan, state);
  const fresh: FreshProbe[] = [];
  for (const { probe, key } of plan.probes) {
    const memory = state[key];
    if (memory !== undefined && memory.at >= oldest)
      fresh.push({ id: probe.id, celsius: memory.celsius, uncertainty: probe.uncertainty_celsius });
  }
  return fresh;
}

/** Sets the value of a station with one probe. */
export function takeLoneProbe(
  { probe }: PlannedProbe,
  { celsius }: ProbeMemory,
  memory: StationMemory,
  at: number,
): void {
  memory.at = at;
  memory.celsius = celsius;
  memory.uncertainty = probe.uncertainty_celsius;
}

/** Sets the value of a station with several: the hottest fresh probe or the mean of the fresh ones, by its kind. */
export function combineProbes(plan: StationPlan, memory: StationMemory, state: WatchState, at: number): void {
  let hottest: FreshProbe | null = null;
  let sum = 0;
  let widest = 0;
  const fresh = freshProbes(plan, state, at);
  for (const probe of fresh) {
    if (hottest === null || probe.celsius > hottest.celsius) hottest = probe;
    sum += probe.celsius;
    widest = Math.max(widest, probe.uncertainty);
  }
  if (hottest === null) return;
  memory.at = at;
  const takesHottest = plan.kindFacts.combinesProbes === 'hottest';
  memory.celsius = takesHottest ? hottest.celsius : sum / fresh.length;
  memory.uncertainty = takesHottest ? hottest.uncertainty : widest;
}
