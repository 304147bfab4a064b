// A place whose temperature matters, and what the lab says of it.

import type { WaxClassId } from '../wax/classes/wax-class-id.ts';

export const STATION_KINDS = [
  'melt-pot',
  'dip-pot',
  'annealer',
  'water-bath',
  'lamp',
  'cabinet',
  'shelf',
  'room',
] as const;
export type StationKind = (typeof STATION_KINDS)[number];

/** Kinds that make heat, and so need cautions, a ceiling and a plan. */
const HEATER_KINDS: ReadonlySet<StationKind> = new Set([
  'melt-pot',
  'dip-pot',
  'annealer',
  'water-bath',
  'lamp',
]);
/** Kinds that hold molten wax and so age it. */
const POT_KINDS: ReadonlySet<StationKind> = new Set(['melt-pot', 'dip-pot']);

export const isHeater = (kind: StationKind): boolean => HEATER_KINDS.has(kind);
export const isPot = (kind: StationKind): boolean => POT_KINDS.has(kind);
/** Kinds where finished patterns wait. */
export const isStorage = (kind: StationKind): boolean => !HEATER_KINDS.has(kind);

export interface Station {
  /** Letters, digits, `-`; at most 40; unique in the site. */
  readonly id: string;
  readonly name: string;
  readonly kind: StationKind;
  /** The wax in it or that lies there; null when the lab has not said. */
  readonly wax: WaxClassId | null;
  /** The lab's own values; absent means those of the wax class. */
  readonly window_celsius?: readonly [low: number, high: number];
  readonly ceiling_celsius?: number;
  /** Grams of wax in a pot when full. */
  readonly charge_grams?: number;
  /** Thresholds and delays by rule kind, over the defaults of the rule; keys carry their units. */
  readonly rules?: Readonly<Record<string, Readonly<Record<string, number | boolean>>>>;
}
