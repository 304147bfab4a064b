// Input that gave no reading, as a value: what came, where, when, and why it was not taken.
// Nothing is dropped in silence; whoever makes a rejection keeps at most the first kilobyte of what came.

import type { EpochMillis } from '../../wax/units.ts';

/** Bytes of the offending message that are kept to look at. */
export const SAMPLE_BYTES = 1024;

export interface Rejection {
  readonly topic: string;
  /** Stable code in kebab-case; every one is listed in docs/errors.md. */
  readonly code: string;
  /** What is wrong and what to do, in one English sentence. */
  readonly reason: string;
  /** When it arrived, by the collector's clock. */
  readonly at: EpochMillis;
  /** First kilobyte of the message. */
  readonly sample: Uint8Array;
  /** Length of the whole message. */
  readonly bytes: number;
  /** How many such messages this one stands for, when repeats were counted together; one when absent. */
  readonly times?: number;
}
