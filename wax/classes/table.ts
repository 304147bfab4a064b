// The one table of wax classes. A new class id does not compile until it has its figures here.

import type { WaxClassId } from './wax-class-id.ts';
import type { WaxClass } from './wax-properties.ts';
import { baseplateExtraHard, baseplateHard, baseplateSoft } from './baseplate.ts';
import { castingFreerFlow, castingThinnerFlow } from './casting.ts';
import { biteRegistration, correctiveImpression } from './impression.ts';
import { inlayDip, inlayType1, inlayType2 } from './inlay.ts';
import { boxing, sticky, utility } from './processing.ts';
import { beeswax, candelilla, carnauba, microcrystalline, paraffin } from './raw.ts';

export const WAX_CLASSES: Readonly<Record<WaxClassId, WaxClass>> = {
  'inlay-type-1': inlayType1,
  'inlay-type-2': inlayType2,
  'inlay-dip': inlayDip,
  'casting-thinner-flow': castingThinnerFlow,
  'casting-freer-flow': castingFreerFlow,
  'baseplate-soft': baseplateSoft,
  'baseplate-hard': baseplateHard,
  'baseplate-extra-hard': baseplateExtraHard,
  boxing,
  utility,
  sticky,
  'bite-registration': biteRegistration,
  'corrective-impression': correctiveImpression,
  paraffin,
  microcrystalline,
  beeswax,
  carnauba,
  candelilla,
};
