// Whether a station gets hotter or colder, said only of a live reading and of more than the noise of a probe.

import type { StationView } from '../../api/schemas.ts';
import { isLive } from './lab-state.ts';

/** Slower than this is called steady. */
const MOVING_CELSIUS_PER_HOUR = 6;

export const directionOf = (station: StationView): 'up' | 'down' | null => {
  const { celsiusPerHour } = station;
  if (!isLive(station) || celsiusPerHour === null || Math.abs(celsiusPerHour) < MOVING_CELSIUS_PER_HOUR)
    return null;
  return celsiusPerHour > 0 ? 'up' : 'down';
};
