// Recorded readings as entries of the watch, with what people did and gateways reported in between, and with the time that
// passes. Each reading counts as having arrived when it was taken: the store does not keep when it did. While the program
// did not run nothing arrived and no time passed.

import { type Entry, TICK_MILLIS } from '../../../lab/entry.ts';
import type { RecordedEntry } from '../../../lab/database/entry-record.ts';
import type { Reading } from '../../../lab/reading.ts';
import { type EpochMillis, epochMillis } from '../../../wax/units.ts';

export interface EntryMakerOptions {
  readonly gatewayOf: (probe: string, at: EpochMillis) => string;
  /** What else came in the whole time, in the order in which it came. */
  readonly recorded?: readonly RecordedEntry[];
}

/**
 * Makes entries of one span after the other; each span begins where the one before ended.
 * `readings` in any order; `until`: the end of the span, exclusive.
 */
export type EntryMaker = (readings: readonly Reading[], until: EpochMillis) => readonly Entry[];

const byTimeAndProbe = (a: Reading, b: Reading): number => a.at - b.at || (a.probe < b.probe ? -1 : 1);

export function entryMaker({ gatewayOf, recorded = [] }: EntryMakerOptions): EntryMaker {
  let tickedAt: EpochMillis | null = null;
  let next = 0;
  /** Measured while the program did not run: they arrived when it did again. */
  const waiting: Reading[] = [];
  return (readings, until) => {
    const entries: Entry[] = [];
    const passTime = (to: EpochMillis): void => {
      tickedAt ??= to;
      for (; to - tickedAt >= TICK_MILLIS; entries.push({ kind: 'tick', receivedAt: tickedAt }))
        tickedAt = epochMillis(tickedAt + TICK_MILLIS);
    };
    const addReading = (reading: Reading, receivedAt: EpochMillis): void => {
      passTime(receivedAt);
      const gateway = gatewayOf(reading.probe, receivedAt);
      entries.push({ kind: 'readings', receivedAt, gateway, readings: [reading] });
    };
    const addRecorded = (entry: RecordedEntry): void => {
      const { receivedAt } = entry;
      if (entry.kind !== 'tick' || entry.after === undefined) passTime(receivedAt);
      else {
        passTime(entry.after.receivedAt);
        entries.push(entry.after);
        tickedAt = receivedAt;
      }
      entries.push(entry);
      for (const reading of waiting.splice(0)) addReading(reading, receivedAt);
    };
    const addRecordedBefore = (end: number): void => {
      for (
        let entry = recorded[next];
        entry !== undefined && entry.receivedAt < end;
        entry = recorded[next]
      ) {
        addRecorded(entry);
        next += 1;
      }
    };
    for (const reading of [...readings].sort(byTimeAndProbe)) {
      addRecordedBefore(reading.at + 1);
      const coming = recorded[next];
      const isDown = coming?.kind === 'tick' && (coming.after?.receivedAt ?? reading.at) < reading.at;
      if (isDown) waiting.push(reading);
      else addReading(reading, reading.at);
    }
    addRecordedBefore(until);
    return entries;
  };
}
