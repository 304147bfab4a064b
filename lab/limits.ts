// The temperatures that hold at a station: those of the wax in it, the lab's own values over them. Each keeps its
// standing and source. Which window counts depends on what the station does: keep molten, anneal, soften, store.

import { checkedWaxClass, type WaxClass, type WaxSpan, type WaxValue, waxClass } from '../wax/wax-class.ts';
import type { WaxClassId } from '../wax/classes/wax-class-id.ts';
import { labsOwn } from '../wax/classes/wax-value.ts';
import type { Charge } from './charge.ts';
import { lotShares } from './charge-shares.ts';
import type { Lab } from './lab.ts';
import type { Pattern } from './pattern.ts';
import type { Station } from './station.ts';
import { STATION_KIND_FACTS, type StationKindFacts } from './station-kinds.ts';
import type { WaxLot } from './wax-lot.ts';

/** Degrees Celsius; null where nothing is known, because no wax is named or the kind has none. */
export interface StationLimits {
  readonly windowLow: WaxValue | null;
  readonly windowHigh: WaxValue | null;
  /** For heaters only. */
  readonly ceiling: WaxValue | null;
  /** For storage only: the warmest that the wax may lie at. */
  readonly storageMax: WaxValue | null;
}

const WINDOW_OF: Readonly<
  Record<NonNullable<StationKindFacts['window']>, (wax: WaxClass) => WaxSpan | null>
> = {
  pot: (wax) => wax.potWindow ?? null,
  anneal: (wax) => wax.annealWindow ?? wax.workingWindow,
  bath: (wax) => wax.bathWindow ?? wax.workingWindow,
  working: (wax) => wax.workingWindow,
};

/** A stick in an annealer must soften and keep its shape: where its window ends before melting, melting is the end. */
const ceilingOf = (
  { ceiling, melting }: WaxClass,
  by: NonNullable<StationKindFacts['ceiling']>,
  windowHigh: number | undefined,
): WaxValue =>
  by === 'wax-or-melting' &&
  windowHigh !== undefined &&
  windowHigh < melting.low.value &&
  melting.low.value < ceiling.value
    ? melting.low
    : ceiling;

const lotById = (lab: Lab, id: string | null | undefined): WaxLot | undefined =>
  id === null || id === undefined ? undefined : lab.lots?.find((lot) => lot.id === id);

/**
 * The class with the lab's own values and over them those of a lot. Values that no longer fit the table count for
 * nothing: watching goes on.
 */
export const labsWaxClass = (id: WaxClassId, lab: Pick<Lab, 'waxOverrides'>, lot?: WaxLot): WaxClass => {
  const sheet = lot === undefined || lot.wax !== id ? undefined : { ...lot, values: lot.sheetValues };
  const checked = checkedWaxClass(id, lab.waxOverrides[id], sheet);
  if (checked.ok) return checked.value;
  return sheet === undefined ? waxClass(id) : labsWaxClass(id, lab);
};

/** A lot with a smaller share than this sets no ceiling: what is left at the bottom of a pot. */
const LEAST_SHARE = 0.05;

/** The wax of a charge: the values of the lot that it has most of, and the lowest ceiling of all its lots. */
export function chargesWaxClass(charge: Charge, lab: Lab): WaxClass {
  const lots = lotShares(charge);
  const wax = labsWaxClass(charge.wax, lab, lotById(lab, lots[0]?.lot));
  const ceilings = lots
    .filter(({ share }) => share >= LEAST_SHARE)
    .map(({ lot }) => labsWaxClass(charge.wax, lab, lotById(lab, lot)).ceiling);
  const lowest = ceilings.toSorted((left, right) => left.value - right.value)[0];
  return lowest === undefined || lowest.value >= wax.ceiling.value ? wax : { ...wax, ceiling: lowest };
}

/** The wax of a pattern: its class with the lab's own values and those of its lot. */
export const patternsWaxClass = ({ wax, lot }: Pattern, lab: Lab): WaxClass =>
  labsWaxClass(wax, lab, lotById(lab, lot));

/** The wax that is at the station now, with the values of its charge; null where none is named. */
export function waxClassAt(station: Station, lab: Lab): WaxClass | null {
  const charge = lab.charges.find(({ station: id, endedAt }) => id === station.id && endedAt === null);
  if (charge !== undefined) return chargesWaxClass(charge, lab);
  return station.wax === null ? null : labsWaxClass(station.wax, lab);
}

/**
 * The highest ceiling that a lab may set at a station, °C: that of the wax in it, also where wax softens and melting
 * counts unless the lab sets another: a lamp may melt a surface on purpose. Null where no wax is named.
 */
export const highestOwnCeiling = (station: Station, lab: Lab): number | null => {
  const wax = waxClassAt(station, lab);
  return wax === null || STATION_KIND_FACTS[station.kind].ceiling === null ? null : wax.ceiling.value;
};

/** A lab is never changed, so what was worked out for it holds as long as the lab itself is in memory. */
const limitsOfLabs = new WeakMap<Lab, Map<Station, StationLimits>>();

export function stationLimits(station: Station, lab: Lab): StationLimits {
  let ofLab = limitsOfLabs.get(lab);
  if (ofLab === undefined) {
    ofLab = new Map();
    limitsOfLabs.set(lab, ofLab);
  }
  const computed = ofLab.get(station);
  if (computed !== undefined) return computed;
  const limits = limitsOf(station, waxClassAt(station, lab));
  ofLab.set(station, limits);
  return limits;
}

function limitsOf(station: Station, wax: WaxClass | null): StationLimits {
  const facts = STATION_KIND_FACTS[station.kind];
  const window = wax === null || facts.window === null ? null : WINDOW_OF[facts.window](wax);
  const own = (value: number | undefined, instead: WaxValue | null): WaxValue | null => {
    if (value === undefined) return instead;
    return instead === null
      ? { value, standing: "lab's own", source: { code: 'set-for-station' } }
      : labsOwn(value, instead);
  };
  const [ownLow, ownHigh] = station.window_celsius ?? [];
  const windowHigh = own(ownHigh, window?.high ?? null);
  return {
    windowLow: own(ownLow, window?.low ?? null),
    windowHigh,
    ceiling:
      facts.ceiling === null
        ? null
        : own(
            station.ceiling_celsius,
            wax === null ? null : ceilingOf(wax, facts.ceiling, windowHigh?.value),
          ),
    storageMax: facts.hasStorageLimit
      ? own(ownHigh ?? station.ceiling_celsius, wax?.storageMax ?? null)
      : null,
  };
}
