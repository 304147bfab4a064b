// The extremes of the last closed stretch: what the place did while nobody was there.

import type { Stretch } from '../../../lab/calendar.ts';

/** Plain JSON. */
export interface Night {
  readonly low: number;
  readonly high: number;
  readonly from: number;
  /** Null while it lasts. */
  readonly endedAt: number | null;
}

export function nightStep(night: Night | null, hours: Stretch, at: number, celsius: number): Night | null {
  if (hours.open) return night === null || night.endedAt !== null ? night : { ...night, endedAt: at };
  const from = hours.from ?? at;
  if (night === null || night.endedAt !== null || night.from !== from)
    return { low: celsius, high: celsius, from, endedAt: null };
  if (celsius >= night.low && celsius <= night.high) return night;
  return { ...night, low: Math.min(night.low, celsius), high: Math.max(night.high, celsius) };
}
