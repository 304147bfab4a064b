// What a pattern's history is named by, in the reader's words.

import type { LotView } from '../../../api/lots.ts';
import { word } from '../../base/messages.ts';
import { stations } from '../../live/lab-state.ts';

/** Factors whose values are codes, and the group of words that each is in. */
const GROUPS: Readonly<Record<string, string>> = {
  wax: 'wax',
  technique: 'technique',
  dose: 'dose-group',
  origin: 'origin',
  softening: 'softening',
  stored: 'stored-group',
  warm: 'warm-group',
  die: 'die-group',
  investment: 'investment',
  alloy: 'alloy',
};

/** A value of a factor; ids of the lab's own things by their names. */
export const factorValue = (
  name: string,
  value: string,
  lots: readonly LotView[],
  materials: readonly { readonly id: string; readonly name: string }[],
): string => {
  if (name === 'lot') {
    const lot = lots.find(({ id }) => id === value);
    return lot === undefined ? value : `${lot.maker}, ${lot.lot}`;
  }
  if (name === 'station')
    return stations.value.find((station) => station.peek().id === value)?.peek().name ?? value;
  const own = materials.find(({ id }) => id === value);
  if (own !== undefined) return own.name;
  const group = GROUPS[name];
  return group === undefined ? value : word(group, value);
};

export const factorName = (name: string): string => word('factor', name);
