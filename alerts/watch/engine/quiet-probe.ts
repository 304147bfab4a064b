// Whether the rules of a probe can be passed over at a reading: none holds, and none can begin to within the bounds that
// all of them drew at their last evaluation. As for stations (quiet-station.ts) it changes no outcome and is not stored.

import { type DrawnProbeBounds, ProbeBounds } from '../rule/probe-bounds.ts';
import type { ProbeInput } from '../rule/rule-input.ts';
import type { ProbePlan } from './lab-plan.ts';
import type { ProbeMemory } from './memory.ts';

interface QuietProbe {
  readonly plan: ProbePlan;
  readonly bounds: DrawnProbeBounds;
  readonly step: ProbeMemory['signal']['step'];
  readonly spikes: number;
}

const quietProbes = new WeakMap<ProbeMemory, QuietProbe>();

/** For a copy of the memory that goes on in its place. */
export function keepProbeQuiet(from: ProbeMemory, to: ProbeMemory): void {
  const quiet = quietProbes.get(from);
  if (quiet !== undefined) quietProbes.set(to, quiet);
}

/** Of a probe without any condition. */
export function isProbeQuiet(plan: ProbePlan, memory: ProbeMemory, at: number): boolean {
  const quiet = quietProbes.get(memory);
  if (quiet === undefined || quiet.plan !== plan) return false;
  const { bounds, spikes, step } = quiet;
  const { signal } = memory;
  return (
    signal.step === step &&
    signal.spikes === spikes &&
    at < bounds.before &&
    signal.roughness < bounds.roughnessBelow &&
    signal.sameReadings < bounds.sameReadingsBelow
  );
}

/** To be called when all rules have been evaluated and none holds or waits to. */
export function drawProbeBounds(plan: ProbePlan, memory: ProbeMemory, input: ProbeInput): void {
  const bounds = new ProbeBounds(input);
  for (const { rule, values } of plan.station.probeRules)
    if (rule.staysQuiet?.(input, values, bounds) !== true) return;
  const { spikes, step } = memory.signal;
  quietProbes.set(memory, { plan, bounds: bounds.drawn, step, spikes });
}
