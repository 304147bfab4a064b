// Plain words of a case for a kind of station or a wax, as the nearest of those that the product has.

import type { StationKind } from '../../lab/station-kinds.ts';
import type { WaxClassId } from '../../wax/classes/wax-class-id.ts';

type Words<Meaning> = readonly (readonly [words: RegExp, meaning: Meaning])[];

/** Null: the product has no such kind, so the station is not watched. */
const KINDS: Words<StationKind | null> = [
  [/burn.?out|furnace|kiln|casting machine/, null],
  [/soften|anneal/, 'annealer'],
  [/dip/, 'dip-pot'],
  [/pot\b|melter|melting|wax heater|wax unit/, 'melt-pot'],
  [/bath/, 'water-bath'],
  [/lamp|infra.?red|radiator/, 'lamp'],
  [/cabinet|cupboard|box|drawer|fridge|refrigerator/, 'cabinet'],
  [/shel(f|ves)|rack|tray/, 'shelf'],
  [/room|store|storage/, 'room'],
];

const WAXES: Words<WaxClassId> = [
  [/sticky/, 'sticky'],
  [/dip/, 'inlay-dip'],
  [/inlay.*(type|class) ?(1|i|a)\b|hard inlay|direct inlay/, 'inlay-type-1'],
  [/inlay|carv|crown|margin|pattern/, 'inlay-type-2'],
  [/extra.?hard/, 'baseplate-extra-hard'],
  [/soft.*base.?plate|base.?plate.*soft/, 'baseplate-soft'],
  [/base.?plate|modell?ing|set.?up/, 'baseplate-hard'],
  [/cast|sheet|framework|partial/, 'casting-thinner-flow'],
  [/bite|registration/, 'bite-registration'],
  [/corrective|impression/, 'corrective-impression'],
  [/boxing/, 'boxing'],
  [/utility|periphery|beading/, 'utility'],
  [/micro/, 'microcrystalline'],
  [/bees/, 'beeswax'],
  [/carnauba/, 'carnauba'],
  [/candelilla/, 'candelilla'],
  [/paraffin/, 'paraffin'],
];

const findMeaning = <Meaning>(words: Words<Meaning>, text: string): Meaning | undefined =>
  words.find(([pattern]) => pattern.test(text.toLowerCase()))?.[1];

/** Undefined for words that nobody has met yet. */
export const kindInWords = (text: string): StationKind | null | undefined => findMeaning(KINDS, text);

export const waxInWords = (text: string, kind: StationKind): WaxClassId | null => {
  const wax = findMeaning(WAXES, text) ?? null;
  // Inlay wax that is dipped is dip wax.
  return kind === 'dip-pot' && wax === 'inlay-type-2' ? 'inlay-dip' : wax;
};
