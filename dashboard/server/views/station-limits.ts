// The window and the ceiling that hold at a station, each with where it comes from: the lab's own value where it
// set one, else that of the wax class. Storage has no window, only the warmest that the wax may lie at.

import type { Lab } from '../../../lab/lab.ts';
import { isStorage, type Station, type StationKind } from '../../../lab/station.ts';
import { checkedWaxClass, type WaxClass, type WaxSpan, waxClass } from '../../../wax/wax-class.ts';
import type { WaxClassId } from '../../../wax/wax-class-id.ts';
import type { Figure, StationView } from '../../api/schemas.ts';

type Limits = Pick<StationView, 'wax' | 'windowLow' | 'windowHigh' | 'ceiling'>;

const labsOwn = (value: number): Figure => ({ value, standing: "lab's own", source: 'set for this station' });

const HEATER_WINDOW: Readonly<Record<StationKind, (wax: WaxClass) => WaxSpan | null>> = {
  'melt-pot': (wax) => wax.potWindow ?? null,
  'dip-pot': (wax) => wax.potWindow ?? null,
  annealer: (wax) => wax.annealWindow ?? wax.workingWindow,
  'water-bath': (wax) => wax.bathWindow ?? wax.workingWindow,
  lamp: (wax) => wax.workingWindow,
  cabinet: () => null,
  shelf: () => null,
  room: () => null,
};

/** Values in the database that no longer fit the table count for nothing, rather than stop the wall. */
export const labsWaxClass = (lab: Lab, id: WaxClassId): WaxClass => {
  const checked = checkedWaxClass(id, lab.waxOverrides[id]);
  return checked.ok ? checked.value : waxClass(id);
};

export const stationLimits = (lab: Lab, station: Station, waxId: WaxClassId | null): Limits => {
  const wax = waxId === null ? null : labsWaxClass(lab, waxId);
  const window = wax === null ? null : HEATER_WINDOW[station.kind](wax);
  const own = station.window_celsius;
  const storageMax = wax !== null && isStorage(station.kind) ? wax.storageMax : null;
  return {
    wax: wax === null ? null : { id: wax.id, name: wax.name },
    windowLow: own === undefined ? (window?.low ?? null) : labsOwn(own[0]),
    windowHigh: own === undefined ? (window?.high ?? storageMax) : labsOwn(own[1]),
    ceiling:
      station.ceiling_celsius === undefined ? (wax?.ceiling ?? null) : labsOwn(station.ceiling_celsius),
  };
};
