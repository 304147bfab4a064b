// What a pattern's history is named by, in the reader's words.

import type { CastingMaterialView } from '../../../api/casting.ts';
import type { ChargeView } from '../../../api/charges.ts';
import type { LotView } from '../../../api/lots.ts';
import { formatDay } from '../../base/format.ts';
import { word } from '../../base/messages.ts';
import { reader } from '../../live/lab-state.ts';
import { useLoaded } from '../../live/use-loaded.ts';
import { useCastingMaterials } from './material-options.ts';
import { useLots } from './lot-choice.tsx';
import { stationName } from '../../live/lab-stations.ts';

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

interface OwnThings {
  readonly lots: readonly LotView[];
  readonly materials: readonly CastingMaterialView[];
  readonly charges: readonly ChargeView[];
}

/** What the lab gave names to and a factor can be. */
export const useOwnThings = (): OwnThings => ({
  lots: useLots(),
  materials: useCastingMaterials(),
  charges: useLoaded<readonly ChargeView[]>('/api/charges').value ?? [],
});

/** A value of a factor; ids of the lab's own things by their names, a charge by its pot and the day that it was filled. */
export const factorValue = (name: string, value: string, { lots, materials, charges }: OwnThings): string => {
  if (name === 'charge') {
    const charge = charges.find(({ id }) => id === value);
    return charge === undefined ? '–' : `${charge.stationName}, ${formatDay(charge.startedAt, reader.value)}`;
  }
  if (name === 'lot') {
    const lot = lots.find(({ id }) => id === value);
    return lot === undefined ? value : `${lot.maker}, ${lot.lot}`;
  }
  if (name === 'station') return stationName(value);
  const own = materials.find(({ id }) => id === value);
  if (own !== undefined) return own.name;
  const group = GROUPS[name];
  return group === undefined ? value : word(group, value);
};

export const factorName = (name: string): string => word('factor', name);
