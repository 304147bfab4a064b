// What may be stated where no reading lies beyond a limit: not that all was well where nothing was measured, where no limit
// held, or of the time of a gap. Pure.

import { STATION_KINDS, stores } from '../../../lab/station-kinds.ts';
import type { EvidencePlace } from '../../api/evidence.ts';

/** The key of the sentence; null where something went beyond a limit. */
export function noneBeyondKey({ beyond, kind, limits, whole }: EvidencePlace) {
  if (beyond.length > 0) return null;
  if (whole.readings === 0) return 'evidence.beyond-unmeasured';
  const isStore = STATION_KINDS.some((each) => each === kind && stores(each));
  const isHeld = limits.some(({ windowLow, storageMax, ceiling }) =>
    isStore ? windowLow !== null || storageMax !== null : ceiling !== null,
  );
  if (!isHeld) return 'evidence.beyond-no-limit';
  return whole.gapMinutes > 0 ? 'evidence.beyond-gaps' : 'evidence.beyond-none';
}
