// Input that gave no reading, as a value: what came, where, when, and why it was not taken.
// Nothing is dropped in silence; whoever makes a rejection keeps at most the first kilobyte of what came.

import type { RejectionEntry } from '../../lab/entry.ts';
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
  /** How many such parts of the message this one stands for; one when absent. */
  readonly times?: number;
}

/** As the journal keeps them. Repeats within one message are counted together: a large pack of bad records is one entry. */
export const rejectionEntries = (rejections: readonly Rejection[]): readonly RejectionEntry[] => {
  const byCode = new Map<string, RejectionEntry>();
  for (const { topic, code, reason, at, sample, bytes, times = 1 } of rejections)
    byCode.set(code, {
      kind: 'rejection',
      receivedAt: at,
      topic,
      code,
      reason,
      sample_base64: Buffer.from(sample).toString('base64'),
      bytes,
      times: (byCode.get(code)?.times ?? 0) + times,
    });
  return [...byCode.values()];
};

export const rejectionOf = (entry: RejectionEntry): Rejection => ({
  topic: entry.topic,
  code: entry.code,
  reason: entry.reason,
  at: entry.receivedAt,
  sample: Buffer.from(entry.sample_base64, 'base64'),
  bytes: entry.bytes,
  times: entry.times,
});
