// The one ordered input of the system: what the journal holds and what everything behind it is computed from.
// A replay of the same entries over the same lab gives the same alarms, byte for byte.

import type { ProblemValues } from '../wax/result.ts';
import { type EpochMillis, MILLIS_PER_SECOND } from '../wax/units.ts';
import type { Act } from './act.ts';
import type { DeviceStatus } from './device-status.ts';
import type { ElectricalReading, Reading } from './reading.ts';

/** `live`: measured just now. `past`: kept back somewhere, so that it shows how it was. */
export type Timing = 'live' | 'past';

/** Network and gathering delay a live message by no more than this. Common practice. */
export const MOST_DELAY_MILLIS = 90 * MILLIS_PER_SECOND;

export interface ReadingsEntry {
  readonly kind: 'readings';
  /** When the message arrived, by the collector's clock. */
  readonly receivedAt: EpochMillis;
  readonly gateway: string;
  readonly readings: readonly Reading[];
  /** Values of bare sensors, as they came; converted where readings are qualified. */
  readonly electrical?: readonly ElectricalReading[];
  /** The gateway sent them as values of the past: they fill it, whatever their instants, and prove nothing about its clock. */
  readonly isHistorical?: boolean;
  /** `arrival`: the message bore no times. Absent: instants are as the clock of the gateway stamped them. */
  readonly stampedBy?: 'arrival';
  /** Set where readings are qualified, and instants are corrected with it; absent in the journal. */
  readonly timing?: Timing;
  /** Set with it: how far the gateway's clock is steadily behind, milliseconds; null while it is not steady. */
  readonly clockLagMillis?: number | null;
  /** Set with it: the gateway's clock jumped several times within an hour. */
  readonly isClockUnsteady?: true;
}

/** A gateway, or its last will, reported it online or offline. */
export interface GatewayEntry {
  readonly kind: 'gateway';
  readonly receivedAt: EpochMillis;
  readonly gateway: string;
  readonly online: boolean;
}

/** A gateway reported that probes of it are gone: their device died or lost its connection. */
export interface ProbesGoneEntry {
  readonly kind: 'probes-gone';
  readonly receivedAt: EpochMillis;
  readonly gateway: string;
  readonly probes: readonly string[];
}

/** Numbers of the sweeps that a message carried: a gateway counts them from 1 on without a gap. */
export interface SequenceEntry {
  readonly kind: 'sequence';
  readonly receivedAt: EpochMillis;
  readonly gateway: string;
  readonly sequences: readonly number[];
  /** The buffer whose numbers they are; absent where the gateway does not name it. */
  readonly buffer?: string;
}

/** What probes or the gateway reported of their batteries and radios. */
export interface DeviceStatusEntry {
  readonly kind: 'device-status';
  readonly receivedAt: EpochMillis;
  readonly gateway: string;
  readonly statuses: readonly DeviceStatus[];
}

export interface ActEntry {
  readonly kind: 'act';
  readonly receivedAt: EpochMillis;
  readonly act: Act;
}

/** How often the passing of time is written into the journal. */
export const TICK_MILLIS = 5000;

/** Time passes even when nothing is measured: written by the clock of the running process. */
export interface TickEntry {
  readonly kind: 'tick';
  readonly receivedAt: EpochMillis;
  /** The process that wrote it, by a clock that nobody sets: a jump of the machine's clock shows against it. */
  readonly process?: { readonly startedAt: EpochMillis; readonly runningMillis: number };
  /**
   * In the record for replays alone: the newest tick before this one, where no time passed between the two because the
   * program did not run or the machine's clock was set forward.
   */
  readonly after?: TickEntry;
}

/** The state of a part of the running process, written when it changes: the store, the disk, a channel. */
export interface SelfCheckEntry {
  readonly kind: 'self-check';
  readonly receivedAt: EpochMillis;
  readonly part: 'store' | 'disk' | 'phone-subscriptions' | 'channel';
  /** Which one, where there are several (a channel's name); else empty. */
  readonly name: string;
  readonly ok: boolean;
  readonly detail: string;
}

/** A message, or a part of one, that gave no reading. In the journal, so that it is as safe as a reading is. */
export interface RejectionEntry {
  readonly kind: 'rejection';
  readonly receivedAt: EpochMillis;
  readonly topic: string;
  /** Listed in docs/errors.md; one of an older journal may not be. */
  readonly code: string;
  readonly values?: ProblemValues;
  /** What was refused, as text. */
  readonly offending?: string;
  /** English sentence of an older journal, in place of values. */
  readonly reason?: string;
  readonly sample_base64: string;
  /** Length of the whole message. */
  readonly bytes: number;
  /** How many parts of the message it stands for. */
  readonly times: number;
}

export type Entry =
  | ReadingsEntry
  | GatewayEntry
  | ProbesGoneEntry
  | SequenceEntry
  | DeviceStatusEntry
  | ActEntry
  | TickEntry
  | SelfCheckEntry
  | RejectionEntry;
