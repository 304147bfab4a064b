// Parts that were copied already in a batch.

import type { ClockMemory, GatewayMemory, ProbeMemory, StationMemory } from './memory.ts';

/** By the index of their plan: found by name they cost more than a rule. */
export interface EditedParts {
  readonly stations: (StationMemory | undefined)[];
  readonly probes: (ProbeMemory | undefined)[];
  readonly gateways: (GatewayMemory | undefined)[];
  clock: ClockMemory | null;
}
export const emptyEdits = (): EditedParts => ({ stations: [], probes: [], gateways: [], clock: null });
