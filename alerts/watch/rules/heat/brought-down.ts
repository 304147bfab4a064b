// Whoever finds a heater over its ceiling turns it down or off.

import type { StationInput } from '../../rule/rule-input.ts';

/** It was over its ceiling and has only fallen since: its thermostat has not turned it up again. */
export const wasBroughtDown = ({ band, limits }: Pick<StationInput, 'band' | 'limits'>): boolean =>
  limits.ceiling !== null && band !== null && band.going === -1 && band.peak > limits.ceiling.value;
