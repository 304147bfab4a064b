// When wax is soft to the core: the least time for both rules of soaking, and the piece that is soaked.

import type { Station } from '../../../../lab/station.ts';
import { STATION_KIND_FACTS } from '../../../../lab/station-kinds.ts';
import { parameter } from '../../rule/parameter.ts';

export const soakMinutes = parameter('minutes', 15, [1, 240], 'inlay-soak', 'from memory');

/** Of the thickest piece that is laid in. */
export const soakPiece = {
  stick_millimetres: parameter('millimetres', 6, [1, 60]),
  sheet_millimetres: parameter('millimetres', 0, [0, 30]),
};

export const soaks = ({ kind }: Station): boolean => STATION_KIND_FACTS[kind].softens;
