// Before a lab closes its heaters are switched off one by one; what falls then is no fault.

import { MILLIS_PER_HOUR } from '../../../../wax/units.ts';
import type { StationInput } from '../../rule/rule-input.ts';

/** A closed stretch that is no longer is a pause. Common practice. */
const LONGEST_PAUSE_MILLIS = 3 * MILLIS_PER_HOUR;
/** Heaters stay on over a pause, or are switched off shortly before it: within this share of the time before closing. */
const BEFORE_PAUSE_SHARE = 0.25;

export const isBeforePause = ({ hours, nextClosure }: StationInput): boolean =>
  hours.to !== null && nextClosure?.to != null && nextClosure.to - hours.to <= LONGEST_PAUSE_MILLIS;

/** @param millis how long before the end of the day's work heaters are switched off */
export function isClosing(input: StationInput, millis: number): boolean {
  const { at, hours } = input;
  if (hours.to === null || hours.to - at >= millis) return false;
  return !isBeforePause(input) || hours.to - at < BEFORE_PAUSE_SHARE * millis;
}

/** Closed for a pause: what is heated goes on being heated, or was switched off for it. */
export const isPause = ({ hours: { open, from, to } }: Pick<StationInput, 'hours'>): boolean =>
  !open && from !== null && to !== null && to - from <= LONGEST_PAUSE_MILLIS;
