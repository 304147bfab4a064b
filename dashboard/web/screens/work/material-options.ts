// The alloys and investments to choose from: those of the lab and those of the tables.

import type { CastingMaterial } from '../../../../lab/casting-material.ts';
import { ALLOY_SHRINKAGE, INVESTMENT_EXPANSION } from '../../../../wax/relaxation/fit-budget.ts';
import type { CastingMaterialView } from '../../../api/casting.ts';
import { word } from '../../base/messages.ts';
import { useLoaded } from '../../live/use-loaded.ts';

type Kind = CastingMaterial['kind'];
const TABLES: Readonly<Record<Kind, object>> = { alloy: ALLOY_SHRINKAGE, investment: INVESTMENT_EXPANSION };

/** Those of the lab first, then those of the tables. */
export const materialOptions = (
  kind: Kind,
  materials: readonly CastingMaterialView[],
): readonly (readonly [string, string])[] => [
  ...materials.filter((material) => material.kind === kind).map(({ id, name }) => [id, name] as const),
  ...Object.keys(TABLES[kind]).map((name) => [name, word(kind, name)] as const),
];

export const useCastingMaterials = (): readonly CastingMaterialView[] =>
  useLoaded<readonly CastingMaterialView[]>('/api/casting-materials').value ?? [];
