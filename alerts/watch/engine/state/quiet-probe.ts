// Whether the rules of a probe can be passed over at a reading: none holds, and none can begin to within the bounds that
// all of them drew at their last evaluation. As for stations (quiet-station.ts) it changes no outcome and is not stored.

import { type DrawnProbeBounds, ProbeBounds } from '../../rule/probe-bounds.ts';
import type { ProbeInput } from '../../rule/rule-input.ts';
import type { ProbePlan } from './lab-plan.ts';
import type { ProbeMemory } from './memory.ts';

export interface QuietProbe {
  readonly bounds: DrawnProbeBounds;
  readonly step: ProbeMemory['signal']['step'];
  readonly spikes: number;
}

/** Of a probe without any condition. */
export function isProbeQuiet(
  quiet: QuietProbe | undefined,
  { signal }: Pick<ProbeMemory, 'signal'>,
  at: number,
): boolean {
  if (quiet === undefined) return false;
  const { bounds, spikes, step } = quiet;
  return (
    signal.step === step &&
    signal.spikes === spikes &&
    at < bounds.before &&
    signal.roughness < bounds.roughnessBelow &&
    signal.sameReadings < bounds.sameReadingsBelow
  );
}

/** To be called when all rules have been evaluated and none holds or waits to; undefined when one drew no bounds. */
export function drawProbeBounds(
  plan: ProbePlan,
  memory: ProbeMemory,
  input: ProbeInput,
): QuietProbe | undefined {
  const bounds = new ProbeBounds(input);
  for (const { rule, values } of plan.station.probeRules)
    if (rule.staysQuiet?.(input, values, bounds) !== true) return undefined;
  const { spikes, step } = memory.signal;
  return { bounds: bounds.drawn, step, spikes };
}
