// Heaters of which the night says nothing: not knowing is not "left on: none". Pure.

import type { HeaterLine } from '../../api/night.ts';

/** Their names, as a list in a sentence; empty where each was measured. */
export const unmeasuredHeaters = (heaters: readonly Pick<HeaterLine, 'name' | 'maxCelsius'>[]): string =>
  heaters
    .filter(({ maxCelsius }) => maxCelsius === null)
    .map(({ name }) => name)
    .join(', ');
