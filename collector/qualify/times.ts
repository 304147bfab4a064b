// When the readings of a message were measured, by the lab's time, and which of them are there already. A message that
// was delivered before changes nothing, not even what is known of its gateway's clock.

import type { ReadingsEntry, Timing } from '../../lab/entry.ts';
import type { Reading } from '../../lab/reading.ts';
import { epochMillis, MILLIS_PER_MINUTE } from '../../wax/units.ts';
import {
  type GatewayClock,
  isOfStillClock,
  newClock,
  readClock,
  readRepeat,
  steadyLagMillis,
} from './gateway-clock.ts';

/** The value that is kept of the probe for exactly that instant; null when there is none. */
export type StoredCelsius = (probe: string, at: number) => number | null;

export interface Timed<R extends Reading> {
  /** Those that are new, at instants of the lab's time. */
  readonly fresh: readonly R[];
  /** Those that differ from what is kept of the same instant, with what is kept. */
  readonly contradicting: readonly { readonly reading: R; readonly inStore: number }[];
  readonly timing: Timing;
  readonly clockLagMillis: number | null;
  readonly clock: GatewayClock | null;
}

/** An instant corrected by less is as good as any; gateways that set their clocks by the network agree better. */
const CERTAIN_MILLIS = 2 * MILLIS_PER_MINUTE;
/** Calibration and decoding leave binary noise behind. */
const SAME_CELSIUS = 1e-6;

const isSame = (inStore: number | null, celsius: number): boolean =>
  inStore !== null && Math.abs(inStore - celsius) < SAME_CELSIUS;

const NOTHING_KEPT: StoredCelsius = () => null;

/** Null for a message of which everything is there already. */
export function takeTimes<R extends Reading>(
  entry: ReadingsEntry,
  readings: readonly R[],
  clock: GatewayClock | null,
  stored: StoredCelsius,
): Timed<R> | null {
  if (entry.stampedBy === 'arrival') {
    const clockLagMillis = clock && steadyLagMillis(clock);
    const { fresh, contradicting } = sortByStored(readings, stored);
    return { fresh, contradicting, timing: 'live', clockLagMillis, clock };
  }
  if (entry.isHistorical === true) return takeHistorical(readings, clock, stored);
  let before = clock ?? newClock();
  const earlierOffset = before.offset ?? 0;
  let newest = Number.NEGATIVE_INFINITY;
  for (const { at } of readings) if (at > newest) newest = at;
  const mayRepeat = !isOfStillClock(before, entry.receivedAt, newest);
  if (mayRepeat && areRepeats(readings, earlierOffset, stored)) {
    const { clock: noted, isRepeat } = readRepeat(before, entry.receivedAt, newest);
    if (isRepeat) return noted === before ? null : nothingNew(noted);
    before = noted;
  }
  const { clock: now, timing, offset } = readClock(before, entry.receivedAt, newest);
  const clockLagMillis = steadyLagMillis(now);
  const isCertain = Math.abs(offset) <= CERTAIN_MILLIS || clockLagMillis !== null;
  // By an offset that has held before, two of one instant bear one stamp: the second contradicts the first.
  const mayMeetByChance = offset !== earlierOffset;
  const placed =
    offset === 0
      ? readings
      : readings.map((reading) => {
          const own = correctTime(reading, offset, isCertain);
          return mayMeetByChance ? moveToFreeInstant(own, stored) : own;
        });
  // No spread: it costs more here than all the rest of the function.
  const { fresh, contradicting } = sortByStored(placed, stored);
  return { fresh, contradicting, timing, clockLagMillis, clock: now };
}

const nothingNew = (clock: GatewayClock): Timed<never> => ({
  fresh: [],
  contradicting: [],
  timing: 'past',
  clockLagMillis: steadyLagMillis(clock),
  clock,
});

function areRepeats(readings: readonly Reading[], earlierOffset: number, stored: StoredCelsius): boolean {
  for (const { probe, at, celsius } of readings) {
    const isRepeat =
      isSame(stored(probe, at), celsius) ||
      (earlierOffset !== 0 && isSame(stored(probe, Math.round(at + earlierOffset)), celsius));
    if (!isRepeat) return false;
  }
  return true;
}

/** Values that the gateway itself sends as past: moved as its clock is known to be off, and proving nothing about it. */
function takeHistorical<R extends Reading>(
  readings: readonly R[],
  clock: GatewayClock | null,
  stored: StoredCelsius,
): Timed<R> {
  const offset = clock?.offset ?? 0;
  const clockLagMillis = clock && steadyLagMillis(clock);
  const placed = offset === 0 ? readings : readings.map((reading) => correctTime(reading, offset, true));
  return { ...sortByStored(placed, stored), timing: 'past', clockLagMillis, clock };
}

/** Where a corrected instant falls on a kept one by chance, the next free one serves as well. */
function moveToFreeInstant<R extends Reading>(reading: R, stored: StoredCelsius): R {
  let { at } = reading;
  for (
    let storedCelsius = stored(reading.probe, at);
    storedCelsius !== null;
    storedCelsius = stored(reading.probe, at)
  ) {
    if (isSame(storedCelsius, reading.celsius)) break;
    at = epochMillis(at + 1);
  }
  return { ...reading, at };
}

const correctTime = <R extends Reading>(reading: R, offset: number, isCertain: boolean): R => ({
  ...reading,
  at: epochMillis(Math.round(reading.at + offset)),
  quality: isCertain ? reading.quality : 'uncertain-time',
});

function sortByStored<R extends Reading>(
  readings: readonly R[],
  stored: StoredCelsius,
): Pick<Timed<R>, 'fresh' | 'contradicting'> {
  const fresh: R[] = [];
  const contradicting: { reading: R; inStore: number }[] = [];
  const withinMessage = readings.length > 1 ? indexFresh(fresh) : NOTHING_KEPT;
  for (const reading of readings) {
    const { probe, at, celsius } = reading;
    const inStore = withinMessage(probe, at) ?? stored(probe, at);
    if (inStore === null) fresh.push(reading);
    else if (!isSame(inStore, celsius)) contradicting.push({ reading, inStore });
  }
  return { fresh, contradicting };
}

/**
 * What those before it in the message hold for the same instant. A message in which the instants of each probe ascend, as
 * they nearly always do, is compared with nothing but the newest of the probe.
 */
function indexFresh(fresh: readonly Reading[]): StoredCelsius {
  const newest = new Map<string, number>();
  const values = new Map<string, number>();
  let indexed = 0;
  return (probe, at) => {
    const before = newest.get(probe);
    if (before === undefined || at > before) {
      newest.set(probe, at);
      return null;
    }
    for (; indexed < fresh.length; indexed += 1) {
      const reading = fresh[indexed];
      if (reading !== undefined) values.set(`${reading.at} ${reading.probe}`, reading.celsius);
    }
    return values.get(`${at} ${probe}`) ?? null;
  };
}
