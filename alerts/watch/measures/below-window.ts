// How far a heater sinks below its window again and again, and people know: heavy work at the edge of its power takes it as
// far on one day as on the next. They are called anew when it goes further.

import { MILLIS_PER_DAY } from '../../../wax/units.ts';

/** Plain JSON, replaced as a whole. */
export interface BelowWindow {
  /** The lowest mean of ten minutes that people were called for, °C. */
  readonly celsius: number;
  /** When it was below its window last, epoch milliseconds. */
  readonly at: number;
}

/** Work comes back within a week. Common practice. */
const KNOWN_MILLIS = 8 * MILLIS_PER_DAY;
/** Kelvins; one day is a little heavier than another. */
const FURTHER = 1;

const isKnown = ({ at }: BelowWindow, now: number): boolean => now - at <= KNOWN_MILLIS;

/**
 * Takes in ten minutes that are over, with a mean below the window.
 * @param isAnnounced people were called for it, and it is still so
 */
export function belowWindowStep(
  below: BelowWindow | undefined,
  at: number,
  celsius: number,
  isAnnounced: boolean,
): BelowWindow | undefined {
  if (below === undefined || !isKnown(below, at)) return isAnnounced ? { celsius, at } : undefined;
  return { celsius: isAnnounced ? Math.min(below.celsius, celsius) : below.celsius, at };
}

/** Whether people were called within a week for its being as low, or nearly. */
export const isKnownBelow = (below: BelowWindow | null, at: number, celsius: number): boolean =>
  below !== null && isKnown(below, at) && celsius > below.celsius - FURTHER;
