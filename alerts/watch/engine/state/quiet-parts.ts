// What the last evaluations found of parts at which no rule can begin to hold for a while. It goes with a state from batch
// to batch and is not stored: it changes no outcome, and after a start everything is evaluated once.

import type { LabPlan, ProbePlan } from './lab-plan.ts';
import type { GatewayMemory } from './memory.ts';
import type { QuietProbe } from './quiet-probe.ts';
import type { QuietStation } from './quiet-station.ts';

/** A gateway of which, at the last tick, no rule held. */
export interface QuietGateway {
  /** Before it no rule about the silence of its probes can hold. */
  readonly until: number;
  /** A probe of it that sends. */
  readonly sender: ProbePlan;
  readonly online: GatewayMemory['online'];
  readonly lagMillis: GatewayMemory['lagMillis'];
  readonly isClockUnsteady: GatewayMemory['isClockUnsteady'];
}

/** By the index of their plan. */
export interface QuietParts {
  readonly plan: LabPlan;
  readonly stations: (QuietStation | undefined)[];
  readonly probes: (QuietProbe | undefined)[];
  /** Until when no rule about the silence of the probe can hold. */
  readonly untilOfProbes: (number | undefined)[];
  readonly gateways: (QuietGateway | undefined)[];
}

export const emptyQuiet = (plan: LabPlan): QuietParts => ({
  plan,
  stations: [],
  probes: [],
  untilOfProbes: [],
  gateways: [],
});

/** For a state of which another one may go on as well. */
export const copyQuiet = ({ plan, stations, probes, untilOfProbes, gateways }: QuietParts): QuietParts => ({
  plan,
  stations: [...stations],
  probes: [...probes],
  untilOfProbes: [...untilOfProbes],
  gateways: [...gateways],
});
