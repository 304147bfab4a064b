// What the embedded and the external broker have in common for intake.

import type { DeliveryMode } from '../decode/message.ts';
import type { BrokerStatus } from './intake.ts';

export interface Arrival {
  readonly topic: string;
  readonly payload: Uint8Array;
  readonly delivery: DeliveryMode;
}

export interface BrokerEvents {
  /** `acknowledge` is called once the message's entries are on disk. */
  readonly arrived: (arrival: Arrival, acknowledge: () => void) => void;
  /** Resolves at once unless too much waits for the disk. */
  readonly whenFree: () => Promise<void> | null;
  readonly status: (status: BrokerStatus) => void;
  readonly now: () => number;
}

export interface BrokerSide {
  readonly publish: (topic: string, payload: string | Uint8Array, retain: boolean) => void;
  /** No message arrives after it resolves. */
  readonly pause: () => Promise<void>;
  /** Sends the acknowledgements that are due and says goodbye. */
  readonly stop: () => Promise<void>;
}

/** Where the collector says whether it is there; its last will says `offline`. */
export const collectorStateTopic = (site: string): string => `wax/${site}/collector/state`;
