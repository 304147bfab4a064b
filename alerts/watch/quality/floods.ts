// Floods: more alarms than a person can answer. One begins with the tenth announcement within ten minutes and ends
// when fewer than five lie in the last ten minutes. Figures: ISA-18.2 / IEC 62682, from memory.

import { type EpochMillis, epochMillis, MILLIS_PER_MINUTE } from '../../../wax/units.ts';

const FLOOD_BEGINS_AT = 10;
const FLOOD_ENDS_BELOW = 5;
const FLOOD_WINDOW_MILLIS = 10 * MILLIS_PER_MINUTE;

export interface Flood {
  /** When the tenth came. */
  readonly from: EpochMillis;
  readonly to: EpochMillis;
  /** Announcements from the first of the ten to the end. */
  readonly count: number;
}

/** `times` in order; what happens after the last is not known, so a flood that has not ended by `end` ends there. */
export function floods(times: readonly EpochMillis[], end: EpochMillis): readonly Flood[] {
  const found: Flood[] = [];
  let current: { from: EpochMillis; count: number } | null = null;
  for (const [index, at] of times.entries()) {
    if (current !== null) {
      const over = endAfter(times, index - 1);
      if (over !== null && over <= at) {
        found.push({ ...current, to: over });
        current = null;
      } else {
        current.count += 1;
        continue;
      }
    }
    const tenth = times[index - FLOOD_BEGINS_AT + 1];
    if (tenth !== undefined && at - tenth < FLOOD_WINDOW_MILLIS)
      current = { from: at, count: FLOOD_BEGINS_AT };
  }
  if (current !== null) {
    const over = endAfter(times, times.length - 1);
    found.push({ ...current, to: epochMillis(Math.min(over ?? end, end)) });
  }
  return found;
}

/** When the last ten minutes hold fewer than five, if nothing comes after `index`. */
function endAfter(times: readonly EpochMillis[], index: number): EpochMillis | null {
  const leaves = times[index - FLOOD_ENDS_BELOW + 1];
  return leaves === undefined ? null : epochMillis(leaves + FLOOD_WINDOW_MILLIS);
}
