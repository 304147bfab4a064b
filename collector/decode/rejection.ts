// Input that gave no reading, as a value: what came, where, when, and why it was not taken.
// Nothing is dropped in silence; whoever makes a rejection keeps at most the first kilobyte of what came.

import type { RejectionEntry } from '../../lab/entry.ts';
import type { EpochMillis } from '../../wax/units.ts';

/** Bytes of the offending message that are kept to look at. */
export const SAMPLE_BYTES = 1024;

export interface Rejection
  extends Pick<RejectionEntry, 'topic' | 'code' | 'values' | 'offending' | 'reason' | 'bytes'> {
  /** When it arrived, by the collector's clock. */
  readonly at: EpochMillis;
  /** First kilobyte of the message. */
  readonly sample: Uint8Array;
  /** How many such parts of the message this one stands for; one when absent. */
  readonly times?: number;
}

/** As the journal keeps them. Repeats within one message are counted together: a large pack of bad records is one entry. */
export const rejectionEntries = (rejections: readonly Rejection[]): readonly RejectionEntry[] => {
  const byCode = new Map<string, RejectionEntry>();
  for (const { at, sample, times = 1, ...rejection } of rejections)
    byCode.set(rejection.code, {
      kind: 'rejection',
      receivedAt: at,
      ...rejection,
      sample_base64: Buffer.from(sample).toString('base64'),
      times: (byCode.get(rejection.code)?.times ?? 0) + times,
    });
  return [...byCode.values()];
};

export const rejectionOf = ({
  kind: _,
  receivedAt,
  sample_base64,
  ...rejection
}: RejectionEntry): Rejection => ({
  ...rejection,
  at: receivedAt,
  sample: Buffer.from(sample_base64, 'base64'),
});
