// The one table of station kinds: what each kind is, for the rules, the limits, the screens and the reports alike.
// Nothing else in the code branches on the name of a kind, so that a new kind is a row here and its words.

import type { BurnContact } from '../wax/burn-caution.ts';

export const STATION_KINDS = [
  'melt-pot',
  'dip-pot',
  'annealer',
  'water-bath',
  'lamp',
  'burnout-furnace',
  'cabinet',
  'shelf',
  'room',
] as const;
export type StationKind = (typeof STATION_KINDS)[number];

export interface StationKindFacts {
  /**
   * `heats`: brings wax to its working temperature, so it has a window, a ceiling and the rules of heat.
   * `stores`: finished patterns wait here. `ambient`: the air around the benches; patterns may lie in it too.
   * `burns-out`: drives wax out of moulds, far above every limit of wax, so it is measured and no rule of wax applies.
   */
  readonly role: 'heats' | 'stores' | 'ambient' | 'burns-out';
  /** It holds a charge of melted wax, which ages in the heat. */
  readonly holdsMeltedWax: boolean;
  /** Pieces of wax are laid in until they are soft to the core. */
  readonly softens: boolean;
  readonly hasDoor: boolean;
  /** A thermostat keeps it in a band while it is on; a lamp is switched by hand for minutes. */
  readonly hasThermostat: boolean;
  /** Its places are compared: two probes that differ mean uneven heat, not a wrong probe. */
  readonly comparesZones: boolean;
  /** What stands for the station where it has several probes. */
  readonly combinesProbes: 'hottest' | 'mean';
  /** The working window of the wax that holds here. */
  readonly window: 'pot' | 'anneal' | 'bath' | 'working' | null;
  /** `wax-or-melting`: a piece must keep its shape, so melting is the end where the window ends below it. */
  readonly ceiling: 'wax' | 'wax-or-melting' | null;
  /** The warmest that the wax may be stored at holds here. */
  readonly hasStorageLimit: boolean;
  /** What surrounds a piece that is laid in; null where none is. */
  readonly surroundings: 'still-air' | 'water-bath' | null;
  /** The caution that is shown wherever the station is set up or too hot; null where nothing is hot. */
  readonly caution: 'heater' | 'furnace' | null;
  /** How skin would meet the heat. */
  readonly burnContact: BurnContact | null;
}

const POT = {
  role: 'heats',
  holdsMeltedWax: true,
  softens: false,
  hasDoor: false,
  hasThermostat: true,
  comparesZones: false,
  combinesProbes: 'hottest',
  window: 'pot',
  ceiling: 'wax',
  hasStorageLimit: false,
  surroundings: null,
  caution: 'heater',
  burnContact: 'liquid',
} as const satisfies StationKindFacts;

const STORAGE = {
  role: 'stores',
  holdsMeltedWax: false,
  softens: false,
  hasDoor: false,
  hasThermostat: false,
  comparesZones: false,
  combinesProbes: 'mean',
  window: null,
  ceiling: null,
  hasStorageLimit: true,
  surroundings: null,
  caution: null,
  burnContact: null,
} as const satisfies StationKindFacts;

export const STATION_KIND_FACTS: Readonly<Record<StationKind, StationKindFacts>> = {
  'melt-pot': POT,
  'dip-pot': POT,
  annealer: {
    ...POT,
    holdsMeltedWax: false,
    softens: true,
    hasDoor: true,
    comparesZones: true,
    window: 'anneal',
    ceiling: 'wax-or-melting',
    surroundings: 'still-air',
    burnContact: 'surface',
  },
  'water-bath': {
    ...POT,
    holdsMeltedWax: false,
    softens: true,
    window: 'bath',
    ceiling: 'wax-or-melting',
    surroundings: 'water-bath',
  },
  lamp: {
    ...POT,
    holdsMeltedWax: false,
    hasThermostat: false,
    window: 'working',
    ceiling: 'wax-or-melting',
    surroundings: 'still-air',
    burnContact: 'surface',
  },
  'burnout-furnace': {
    ...STORAGE,
    role: 'burns-out',
    hasDoor: true,
    combinesProbes: 'hottest',
    hasStorageLimit: false,
    caution: 'furnace',
    burnContact: 'surface',
  },
  cabinet: { ...STORAGE, hasDoor: true },
  shelf: STORAGE,
  room: { ...STORAGE, role: 'ambient' },
};

/** Brings wax to its working temperature: pots, annealers, baths, lamps. */
export const heats = (kind: StationKind): boolean => STATION_KIND_FACTS[kind].role === 'heats';

/** Drives wax out of moulds. */
export const burnsOut = (kind: StationKind): boolean => STATION_KIND_FACTS[kind].role === 'burns-out';

/** Patterns may lie there: storage places, and the room itself. */
export const stores = (kind: StationKind): boolean => {
  const { role } = STATION_KIND_FACTS[kind];
  return role === 'stores' || role === 'ambient';
};

/** A thermostat keeps it warm: pots, annealers, baths. */
export const isThermostatic = (kind: StationKind): boolean => STATION_KIND_FACTS[kind].hasThermostat;

/** Holds a charge of melted wax: pots. */
export const holdsMeltedWax = (kind: StationKind): boolean => STATION_KIND_FACTS[kind].holdsMeltedWax;
