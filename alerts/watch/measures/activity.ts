// What a heater is doing, read from its temperature alone: no message comes when a switch is turned.

import type { StationLimits } from '../../../lab/limits.ts';

export type Activity =
  | { readonly kind: 'cold' }
  /** On its way from cold to its window. */
  | { readonly kind: 'warming'; readonly since: number }
  /** Reached its window; stays so until it is cold again. */
  | { readonly kind: 'hot'; readonly since: number };

/** Common practice: warmer than a hot day's room, colder than any heater at work. */
const COLD_BELOW = 35;
/** A bath for a soft wax works near that, so the border lies well under its window. */
const COLD_BELOW_WINDOW = 8;
const HYSTERESIS = 1;

export const coldLimit = (limits: StationLimits): number =>
  limits.windowLow === null ? COLD_BELOW : Math.min(COLD_BELOW, limits.windowLow.value - COLD_BELOW_WINDOW);

const COLD: Activity = { kind: 'cold' };

export function advanceActivity(
  activity: Activity | null,
  at: number,
  celsius: number,
  limits: StationLimits,
): Activity {
  const border = coldLimit(limits);
  const low = limits.windowLow?.value ?? border;
  if (activity === null) {
    if (celsius < border) return COLD;
    return celsius < low ? { kind: 'warming', since: at } : { kind: 'hot', since: at };
  }
  switch (activity.kind) {
    case 'cold':
      return celsius < border ? activity : { kind: 'warming', since: at };
    case 'warming':
      if (celsius < border - HYSTERESIS) return COLD;
      return celsius < low ? activity : { kind: 'hot', since: at };
    case 'hot':
      return celsius < border - HYSTERESIS ? COLD : activity;
  }
}
