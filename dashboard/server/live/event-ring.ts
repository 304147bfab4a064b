// The last events of the live stream, so that a screen that was away gets what it missed and nothing twice.
// Ids are `{boot}-{sequence}`; by the boot part a screen sees that the program was started anew in between.

import type { ReaderSettings } from '../../../words/quantity.ts';

export interface KeptEvent {
  readonly id: string;
  readonly event: 'station' | 'alarm' | 'probe' | 'lab';
  /** JSON text; alarms are worded for the reader. Null: there is nothing to send any more. */
  readonly dataFor: (reader: ReaderSettings) => string | null;
}

export interface EventRing {
  readonly push: (event: KeptEvent['event'], dataFor: KeptEvent['dataFor']) => KeptEvent;
  /** Id of the newest event; sequence 0 before the first. */
  readonly newestId: () => string;
  /** Events after `id`, oldest first; null when that is no longer known. */
  readonly since: (id: string) => readonly KeptEvent[] | null;
}

export const eventRing = (boot: string, capacity: number): EventRing => {
  const events: KeptEvent[] = [];
  let sequence = 0;
  return {
    push: (event, dataFor) => {
      sequence += 1;
      const newest: KeptEvent = { id: `${boot}-${sequence}`, event, dataFor };
      events.push(newest);
      if (events.length > capacity) events.shift();
      return newest;
    },
    newestId: () => `${boot}-${sequence}`,
    since: (id) => {
      const cut = id.lastIndexOf('-');
      const seen = Number(id.slice(cut + 1));
      if (id.slice(0, cut) !== boot || !/^\d+$/.test(id.slice(cut + 1)) || seen > sequence) return null;
      const missed = sequence - seen;
      return missed > events.length ? null : events.slice(events.length - missed);
    },
  };
};
