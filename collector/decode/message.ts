// One MQTT message as a decoder sees it, and what it may make of it.

import type {
  DeviceStatusEntry,
  GatewayEntry,
  ProbesGoneEntry,
  ReadingsEntry,
  SequenceEntry,
} from '../../lab/entry.ts';
import type { EpochMillis } from '../../wax/units.ts';
import type { Rejection } from './rejection.ts';

/**
 * What the time of arrival means for a message.
 * `live`: it was sent just now. `queued`: the broker may have kept it while the collector was away.
 * `retained`: the broker keeps it as the last value of its topic; it may be of any age.
 */
export type DeliveryMode = 'live' | 'queued' | 'retained';

export interface Message {
  readonly topic: string;
  readonly payload: Uint8Array;
  /** By the collector's clock. */
  readonly receivedAt: EpochMillis;
  readonly delivery: DeliveryMode;
  /** The site that this collector serves. */
  readonly site: string;
}

export interface Decoded {
  readonly entries: readonly (
    | ReadingsEntry
    | GatewayEntry
    | ProbesGoneEntry
    | SequenceEntry
    | DeviceStatusEntry
  )[];
  readonly rejections: readonly Rejection[];
}

export const NOTHING: Decoded = { entries: [], rejections: [] };
