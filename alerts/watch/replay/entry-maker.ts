// Recorded readings as entries of the watch, with what people did and gateways reported in between, and with the time that
// passes. Each reading counts as having arrived when it was taken: the store does not keep when it did.

import type { Entry } from '../../../lab/entry.ts';
import type { Reading } from '../../../lab/reading.ts';
import { type EpochMillis, epochMillis } from '../../../wax/units.ts';

export interface EntryMakerOptions {
  readonly gatewayOf: (probe: string, at: EpochMillis) => string;
  /** How often time passes, so that silences are seen. */
  readonly tickMillis: number;
}

/**
 * Makes entries of one span after the other; each span begins where the one before ended.
 * `readings` in any order; `others` in the order in which they came.
 */
export type EntryMaker = (readings: readonly Reading[], further?: readonly Entry[]) => readonly Entry[];

const byTimeAndProbe = (a: Reading, b: Reading): number => a.at - b.at || (a.probe < b.probe ? -1 : 1);

export function entryMaker({ gatewayOf, tickMillis }: EntryMakerOptions): EntryMaker {
  let tickedAt: EpochMillis | null = null;
  return (readings, further = []) => {
    const entries: Entry[] = [];
    const add = (entry: Entry): void => {
      tickedAt ??= entry.receivedAt;
      while (entry.receivedAt - tickedAt >= tickMillis) {
        tickedAt = epochMillis(tickedAt + tickMillis);
        entries.push({ kind: 'tick', receivedAt: tickedAt });
      }
      entries.push(entry);
    };
    let next = 0;
    for (const reading of [...readings].sort(byTimeAndProbe)) {
      for (
        let entryBetween = further[next];
        entryBetween !== undefined && entryBetween.receivedAt <= reading.at;
        entryBetween = further[next]
      ) {
        add(entryBetween);
        next += 1;
      }
      const gateway = gatewayOf(reading.probe, reading.at);
      add({ kind: 'readings', receivedAt: reading.at, gateway, readings: [reading] });
    }
    for (const entryBetween of further.slice(next)) add(entryBetween);
    return entries;
  };
}
