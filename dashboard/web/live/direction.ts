// Whether a station gets hotter or colder, shown only of a live reading on a live line and of more than the noise of a probe.

import type { StationView } from '../../api/schemas.ts';
import { isLive, line } from './lab-state.ts';
import { hasTurned } from './trend.ts';

/** Slower than this is called steady. */
const MOVING_CELSIUS_PER_HOUR = 6;

export const directionOf = (station: StationView): 'up' | 'down' | null => {
  const { celsiusPerHour } = station;
  if (
    line.value === 'down' ||
    !isLive(station) ||
    celsiusPerHour === null ||
    Math.abs(celsiusPerHour) < MOVING_CELSIUS_PER_HOUR ||
    hasTurned(station)
  )
    return null;
  return celsiusPerHour > 0 ? 'up' : 'down';
};
