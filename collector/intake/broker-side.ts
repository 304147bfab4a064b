// What the embedded and the external broker have in common for intake.

import type { BrokerAnswer } from '../../lab/broker-answer.ts';
import type { Problem } from '../../wax/result.ts';
import type { DeliveryMode } from '../decode/message.ts';
import type { GatewayAccount } from './broker-access.ts';
import type { BrokerCertificate, BrokerStatus } from './intake.ts';

export interface Arrival {
  readonly topic: string;
  readonly payload: Uint8Array;
  readonly delivery: DeliveryMode;
}

export interface BrokerEvents {
  /** `acknowledge` is called once the message's entries are on disk. */
  readonly arrived: (arrival: Arrival, acknowledge: () => void) => void;
  /** What a client that signed in may not send; nothing of it goes further. */
  readonly refused: (topic: string, problem: Problem, payload: Uint8Array) => void;
  /** Resolves at once unless too many messages wait for the disk. */
  readonly whenFree: () => Promise<void> | null;
  readonly status: (status: BrokerStatus) => void;
  readonly now: () => number;
}

export interface BrokerSide {
  /** Only where the broker is ours. */
  readonly setAccounts?: (accounts: readonly GatewayAccount[]) => void;
  /** Only where the broker is ours and uses TLS. */
  readonly setCertificate?: (certificate: BrokerCertificate) => void;
  /** While the broker is away the newest of a topic is kept for it. */
  readonly publish: (topic: string, payload: string | Uint8Array, retain: boolean) => void;
  /** Returns the broker's answer; nothing is queued while the broker is away. Never retained. */
  readonly deliver: (topic: string, payload: string) => Promise<BrokerAnswer>;
  /** Topic filters outside of the site that are followed from now on, in place of those before. */
  readonly follow: (filters: readonly string[]) => void;
  /** No message arrives after it has resolved. */
  readonly pause: () => Promise<void>;
  /** Sends the acknowledgements that are due and disconnects. */
  readonly stop: () => Promise<void>;
}

/** Whether a topic filter takes a topic (MQTT 5, 4.7). */
export function filterTakes(filter: string, topic: string): boolean {
  const levels = topic.split('/');
  const parts = filter.split('/');
  if (topic.startsWith('$') && (parts[0] === '+' || parts[0] === '#')) return false;
  for (const [index, part] of parts.entries()) {
    if (part === '#') return true;
    if (index >= levels.length || (part !== '+' && part !== levels[index])) return false;
  }
  return parts.length === levels.length;
}

/** Where the collector publishes whether it is there; its last will is `offline`. */
export const collectorStateTopic = (site: string): string => `wax/${site}/collector/state`;
