// Parts that were copied already in a batch, and what was found of them at its last tick.

import type { ClockMemory, GatewayMemory, ProbeMemory, StationMemory } from './memory.ts';

/** A gateway of which, at the last tick, no rule held. */
export interface QuietGateway {
  /** Before it no rule about the silence of its probes can hold. */
  readonly until: number;
  /** A probe of it that sends. */
  readonly sender: ProbeMemory;
  readonly online: GatewayMemory['online'];
  readonly lagMillis: GatewayMemory['lagMillis'];
  readonly isClockUnsteady: GatewayMemory['isClockUnsteady'];
}

/** By the index of their plan: found by name they cost more than a rule. */
export interface EditedParts {
  readonly stations: (StationMemory | undefined)[];
  readonly probes: (ProbeMemory | undefined)[];
  readonly gateways: (GatewayMemory | undefined)[];
  /** Until when no rule about the silence of the probe can hold. */
  readonly quietUntil: (number | undefined)[];
  readonly quietGateways: (QuietGateway | undefined)[];
  clock: ClockMemory | null;
}
export const noneEdited = (): EditedParts => ({
  stations: [],
  probes: [],
  gateways: [],
  quietUntil: [],
  quietGateways: [],
  clock: null,
});
