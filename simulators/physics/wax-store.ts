// Heat in a mass of wax: sensible heat of the solid, latent heat spread over its melting range, then the liquid.
// Round figures of the handbooks for paraffin and dental blends: solid 2500, liquid 2200 J/(kg K); 170 kJ/kg latent
// (paraffin 200 to 220, blends less). They shape a believable simulation; no judgement of real wax rests on them.

import type { HeatStore } from './heat-network.ts';

const SOLID_JOULES_PER_KG_KELVIN = 2500;
const LIQUID_JOULES_PER_KG_KELVIN = 2200;
const LATENT_JOULES_PER_KG = 170_000;

export interface MeltingRange {
  readonly solidus: number;
  readonly liquidus: number;
}

export const waxStore = (grams: number, { solidus, liquidus }: MeltingRange): HeatStore => {
  const kilograms = grams / 1000;
  const solid = SOLID_JOULES_PER_KG_KELVIN * kilograms;
  const liquid = LIQUID_JOULES_PER_KG_KELVIN * kilograms;
  const melting = solid + (LATENT_JOULES_PER_KG * kilograms) / (liquidus - solidus);
  const atSolidus = solid * solidus;
  const atLiquidus = atSolidus + melting * (liquidus - solidus);
  return {
    joulesAt: (celsius) => {
      if (celsius <= solidus) return solid * celsius;
      if (celsius <= liquidus) return atSolidus + melting * (celsius - solidus);
      return atLiquidus + liquid * (celsius - liquidus);
    },
    celsiusAt: (joules) => {
      if (joules <= atSolidus) return joules / solid;
      if (joules <= atLiquidus) return solidus + (joules - atSolidus) / melting;
      return liquidus + (joules - atLiquidus) / liquid;
    },
  };
};
