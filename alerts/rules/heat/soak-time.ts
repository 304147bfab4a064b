// How long wax must lie warm before it is soft to the core: one figure for both rules of soaking.

import type { Station } from '../../../lab/station.ts';
import { parameter } from '../parameter.ts';

export const soakMinutes = parameter(
  'at the softening temperature',
  'minutes',
  15,
  [1, 240],
  'inlay sticks at about 50 °C dry heat for at least 15 min: Craig, Restorative Dental Materials; Phillips',
  'from memory',
);

export const soaks = (station: Station): boolean =>
  station.kind === 'annealer' || station.kind === 'water-bath';
