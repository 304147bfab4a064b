// A reading without a time of its own is of its arrival. Many that arrive within one millisecond still get an instant
// each, in their order, so that none takes the place of another.

import type { Entry, ReadingsEntry } from '../../lab/entry.ts';
import { epochMillis, MILLIS_PER_MINUTE } from '../../wax/units.ts';

/** A last arrival that lies further ahead was not made by a burst: the clock of this machine was set back. */
const MOST_AHEAD_MILLIS = MILLIS_PER_MINUTE;
/** Beyond so many probes those that are not in a burst are forgotten. */
const MOST_PROBES = 10_000;

const isOfArrival = (entry: Entry): entry is ReadingsEntry =>
  entry.kind === 'readings' && entry.stampedBy === 'arrival';

/** Returns what moves such readings apart; it keeps the newest arrival of each probe. */
export const arrivalInstants = (): ((entries: readonly Entry[]) => readonly Entry[]) => {
  const newest = new Map<string, number>();
  const arrivalOf = (probe: string, receivedAt: number): number => {
    const last = newest.get(probe) ?? Number.NEGATIVE_INFINITY;
    const isInBurst = last >= receivedAt && last - receivedAt < MOST_AHEAD_MILLIS;
    const arrival = isInBurst ? last + 1 : receivedAt;
    newest.set(probe, arrival);
    if (newest.size > MOST_PROBES) for (const [id, at] of newest) if (at < receivedAt) newest.delete(id);
    return arrival;
  };
  return (entries) => {
    if (!entries.some(isOfArrival)) return entries;
    return entries.map((entry) => {
      if (!isOfArrival(entry)) return entry;
      const { receivedAt, readings } = entry;
      const arrivals = new Map<string, number>();
      for (const { probe } of readings)
        if (!arrivals.has(probe)) arrivals.set(probe, arrivalOf(probe, receivedAt));
      const later = (probe: string): number => (arrivals.get(probe) ?? receivedAt) - receivedAt;
      if (readings.every(({ probe }) => later(probe) === 0)) return entry;
      return {
        ...entry,
        readings: readings.map((reading) => ({
          ...reading,
          at: epochMillis(reading.at + later(reading.probe)),
        })),
      };
    });
  };
};
