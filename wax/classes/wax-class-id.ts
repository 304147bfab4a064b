// The wax classes of the project, by the names that the standards and the trade use.

export const WAX_CLASS_IDS = [
  'inlay-type-1',
  'inlay-type-2',
  'inlay-dip',
  'casting-thinner-flow',
  'casting-freer-flow',
  'baseplate-soft',
  'baseplate-hard',
  'baseplate-extra-hard',
  'boxing',
  'utility',
  'sticky',
  'bite-registration',
  'corrective-impression',
  'paraffin',
  'microcrystalline',
  'beeswax',
  'carnauba',
  'candelilla',
] as const;

export type WaxClassId = (typeof WAX_CLASS_IDS)[number];

export const findWaxClassId = (id: string): WaxClassId | undefined =>
  WAX_CLASS_IDS.find((listed) => listed === id);

export const isWaxClassId = (id: unknown): id is WaxClassId => WAX_CLASS_IDS.some((listed) => listed === id);
