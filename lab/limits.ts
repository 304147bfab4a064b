// The temperatures that hold at a station: those of the wax in it, the lab's own values over them. Each keeps its
// standing and source. Which window counts depends on what the station does: keep molten, anneal, soften, store.

import { checkedWaxClass, type WaxClass, type WaxSpan, type WaxValue, waxClass } from '../wax/wax-class.ts';
import type { WaxClassId } from '../wax/classes/wax-class-id.ts';
import { labsOwn } from '../wax/classes/wax-value.ts';
import type { Lab } from './lab.ts';
import { isStorage, type Station, type StationKind } from './station.ts';

/** Degrees Celsius; null where nothing is known, because no wax is named or the kind has none. */
export interface StationLimits {
  readonly windowLow: WaxValue | null;
  readonly windowHigh: WaxValue | null;
  /** For heaters only. */
  readonly ceiling: WaxValue | null;
  /** For storage only: the warmest that the wax may lie at. */
  readonly storageMax: WaxValue | null;
}

const WINDOW_OF: Readonly<Record<StationKind, (wax: WaxClass) => WaxSpan | null>> = {
  'melt-pot': (wax) => wax.potWindow ?? null,
  'dip-pot': (wax) => wax.potWindow ?? null,
  annealer: (wax) => wax.annealWindow ?? wax.workingWindow,
  'water-bath': (wax) => wax.bathWindow ?? wax.workingWindow,
  lamp: (wax) => wax.workingWindow,
  cabinet: () => null,
  shelf: () => null,
  room: () => null,
};

/** A stick in an annealer must soften and keep its shape: where its window ends before melting, melting is the end. */
const annealerCeiling = ({ ceiling, melting }: WaxClass, windowHigh: number): WaxValue =>
  windowHigh < melting.low.value && melting.low.value < ceiling.value ? melting.low : ceiling;

/** The wax that is at the station now: that of its charge, else the one the lab named. */
export const waxAt = (station: Station, lab: Lab): WaxClassId | null =>
  lab.charges.find((charge) => charge.station === station.id && charge.endedAt === null)?.wax ?? station.wax;

/** The class with the lab's own values. Values that no longer fit the table count for nothing: watching goes on. */
export const labsWaxClass = (id: WaxClassId, lab: Lab): WaxClass => {
  const checked = checkedWaxClass(id, lab.waxOverrides[id]);
  return checked.ok ? checked.value : waxClass(id);
};

/** A lab is never changed, so what was found for it holds as long as it lives. */
const found = new WeakMap<Lab, Map<Station, StationLimits>>();

export function stationLimits(station: Station, lab: Lab): StationLimits {
  let ofLab = found.get(lab);
  if (ofLab === undefined) {
    ofLab = new Map();
    found.set(lab, ofLab);
  }
  const known = ofLab.get(station);
  if (known !== undefined) return known;
  const id = waxAt(station, lab);
  const limits = limitsOf(station, id === null ? null : labsWaxClass(id, lab));
  ofLab.set(station, limits);
  return limits;
}

function limitsOf(station: Station, wax: WaxClass | null): StationLimits {
  const stores = isStorage(station.kind);
  const window = wax === null ? null : WINDOW_OF[station.kind](wax);
  const own = (value: number | undefined, instead: WaxValue | null): WaxValue | null => {
    if (value === undefined) return instead;
    return instead === null
      ? { value, standing: "lab's own", source: 'set for this station' }
      : labsOwn(value, instead);
  };
  const [ownLow, ownHigh] = station.window_celsius ?? [];
  const annealsBelow = station.kind === 'annealer' ? (ownHigh ?? window?.high.value) : undefined;
  const ofClass =
    wax === null || annealsBelow === undefined ? (wax?.ceiling ?? null) : annealerCeiling(wax, annealsBelow);
  return {
    windowLow: own(ownLow, window?.low ?? null),
    windowHigh: own(ownHigh, window?.high ?? null),
    ceiling: stores ? null : own(station.ceiling_celsius, ofClass),
    storageMax: stores ? own(ownHigh ?? station.ceiling_celsius, wax?.storageMax ?? null) : null,
  };
}
