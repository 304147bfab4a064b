// The extremes of the last closed stretch of working hours: what the place did while nobody was there.

import type { Stretch } from '../../../lab/calendar.ts';

/** Plain JSON, advanced in place. */
export interface OvernightExtremes {
  low: number;
  high: number;
  from: number;
  /** Null while it lasts. */
  endedAt: number | null;
}

/** Returns the extremes to remember: the same object, a new one for a new stretch, or null while none was seen. */
export function advanceOvernight(
  overnight: OvernightExtremes | null,
  hours: Stretch,
  at: number,
  celsius: number,
): OvernightExtremes | null {
  if (hours.open) {
    if (overnight !== null && overnight.endedAt === null) overnight.endedAt = at;
    return overnight;
  }
  const from = hours.from ?? at;
  if (overnight === null || overnight.endedAt !== null || overnight.from !== from)
    return { low: celsius, high: celsius, from, endedAt: null };
  if (celsius < overnight.low) overnight.low = celsius;
  if (celsius > overnight.high) overnight.high = celsius;
  return overnight;
}
