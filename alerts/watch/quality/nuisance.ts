// Alarms that teach people not to look: chattering, fleeting and stale ones. Chattering (three in a minute) and
// stale (24 h) are figures of ISA-18.2 / IEC 62682, from memory. For fleeting the standard names no figure: over
// within a minute, before anybody acknowledged, and not back within a minute, is our choice.

import { type EpochMillis, MILLIS_PER_DAY, MILLIS_PER_MINUTE } from '../../../wax/units.ts';
import type { Announcement, Stay } from './announcements.ts';

const CHATTER_COUNT = 3;
const CHATTER_MILLIS = MILLIS_PER_MINUTE;
const FLEETING_MILLIS = MILLIS_PER_MINUTE;
export const STALE_MILLIS = MILLIS_PER_DAY;

function byPoint<T extends { readonly point: string }>(all: readonly T[]): ReadonlyMap<string, readonly T[]> {
  const groups = new Map<string, T[]>();
  for (const item of all) {
    const group = groups.get(item.point);
    if (group === undefined) groups.set(item.point, [item]);
    else group.push(item);
  }
  return groups;
}

/** Points that were announced three times or more within sixty seconds, with how many announcements took part. */
export function findChattering(announcements: readonly Announcement[]): ReadonlyMap<string, number> {
  const found = new Map<string, number>();
  for (const [point, times] of byPoint(announcements)) {
    const taking = new Set<number>();
    for (let last = CHATTER_COUNT - 1; last < times.length; last += 1) {
      const first = last - CHATTER_COUNT + 1;
      const [from, to] = [times[first]?.at, times[last]?.at];
      if (from === undefined || to === undefined || to - from > CHATTER_MILLIS) continue;
      for (let index = first; index <= last; index += 1) taking.add(index);
    }
    if (taking.size > 0) found.set(point, taking.size);
  }
  return found;
}

/** Over before anybody could act, and not back at once: those that come back at once are chattering. */
export function findFleeting(stays: readonly Stay[]): readonly Stay[] {
  const found: Stay[] = [];
  for (const group of byPoint(stays).values())
    for (const [index, stay] of group.entries()) {
      const next = group[index + 1];
      if (stay.to === null || stay.wasAcknowledged || stay.wasHidden) continue;
      if (stay.to - stay.from >= FLEETING_MILLIS) continue;
      if (next !== undefined && next.from - stay.to < FLEETING_MILLIS) continue;
      found.push(stay);
    }
  return found;
}

/** Those that had been so for more than 24 h at some moment of `[from, to)`. */
export const findStale = (stays: readonly Stay[], from: EpochMillis, to: EpochMillis): readonly Stay[] =>
  stays.filter((stay) => {
    const until = stay.to ?? to;
    return until > from && Math.min(until, to) - stay.from > STALE_MILLIS && stay.from < to;
  });
