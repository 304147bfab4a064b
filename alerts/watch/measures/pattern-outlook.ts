// The state of a waiting pattern: its verdict at one instant, and what its places did to it.

import type { PatternVerdict } from '../../../lab/patterns/pattern-verdict.ts';

/** For screens and rules. */
export interface PatternOutlook {
  readonly pattern: string;
  /** Where it lies; null while it is out of the lab. */
  readonly station: string | null;
  readonly verdict: PatternVerdict;
  readonly meanKineticCelsius: number | null;
  readonly swings: number;
  readonly largestSwingCelsius: number;
  readonly minutesTooWarm: number;
  readonly tooWarm: boolean;
  /** The warmest that its wax may lie at, °C. */
  readonly storageMax: number;
}
