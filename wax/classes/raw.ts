// Raw waxes of which the dental ones are blended. Where a window or ceiling is not known in the trade it is put
// at a stated distance from the melting range, and is marked so.

import type { WaxClass } from './wax-properties.ts';
import { commonPractice, fromMemory, published, span } from './wax-value.ts';
import {
  CRAIG_1965,
  CRAIG_BOOK,
  expansionLikeInlay,
  meltingOfOneWax,
  practice,
  sharedKinetics,
  sharedRelaxation,
  sharedThermal,
} from './shared.ts';

const storageMax = commonPractice(25, 'cool-room');
const ceilingAbove = (meltingHigh: number) => commonPractice(meltingHigh + 20, 'above-melting-for-ceilings');
const potAbove = (meltingHigh: number) =>
  practice(meltingHigh + 2, meltingHigh + 12, 'above-melting-for-pots');
const softAt = (low: number, high: number) => practice(low, high, 'between-softening-and-melting');
/** Paraffin's transition lies 8 to 15 °C below its melting; assumed for raw waxes without a figure of their own. */
const belowMelting = (meltingLow: number) =>
  practice(meltingLow - 15, meltingLow - 8, 'below-melting-as-paraffin');

export const paraffin: WaxClass = {
  id: 'paraffin',
  name: 'Paraffin',
  workingWindow: softAt(34, 56),
  potWindow: potAbove(62),
  ceiling: ceilingAbove(62),
  transition: span(fromMemory, 28, 34, 'craig-1965-steep-part'),
  melting: meltingOfOneWax([56, 62], [46, 68], 'middle-grade'),
  storageMax,
  flow: [],
  expansion: [
    {
      from: fromMemory(20, CRAIG_1965),
      coefficient: fromMemory(307e-6, 'craig-1965-span', { from_celsius: 20, to_celsius: 28 }),
    },
    {
      from: fromMemory(28, CRAIG_1965),
      coefficient: fromMemory(1631e-6, 'craig-1965-span', { from_celsius: 28, to_celsius: 34 }),
    },
    {
      from: fromMemory(34, CRAIG_1965),
      coefficient: fromMemory(1307e-6, 'craig-1965-span', { from_celsius: 34, to_celsius: 50 }),
    },
  ],
  measuredTo: fromMemory(50, CRAIG_1965),
  ...sharedThermal,
  density: { solid: published(900, 'encyclopaedia-density'), liquid: sharedThermal.density.liquid },
  latentHeat: commonPractice(210e3, 'encyclopaedia-latent-heat'),
  ...sharedKinetics(69),
  relaxation: sharedRelaxation(28),
};

export const microcrystalline: WaxClass = {
  id: 'microcrystalline',
  name: 'Microcrystalline wax',
  workingWindow: softAt(64, 72),
  potWindow: potAbove(80),
  ceiling: ceilingAbove(80),
  transition: belowMelting(72),
  melting: meltingOfOneWax([72, 80], [60, 91], 'middle-grade'),
  storageMax,
  flow: [],
  ...expansionLikeInlay(57),
  ...sharedThermal,
  ...sharedKinetics(87),
  relaxation: sharedRelaxation(57),
};

export const beeswax: WaxClass = {
  id: 'beeswax',
  name: 'Beeswax',
  workingWindow: softAt(40, 55),
  potWindow: practice(68, 77, 'beekeeping-aroma'),
  ceiling: commonPractice(85, 'beekeeping-discolouring'),
  transition: { low: commonPractice(40, 'beeswax-transition'), high: fromMemory(41, 'craig-1965-bend') },
  melting: practice(61, 66, 'crane-1990-melting'),
  storageMax,
  flow: [],
  expansion: [
    {
      from: fromMemory(22, CRAIG_1965),
      coefficient: fromMemory(344e-6, 'craig-1965-span', { from_celsius: 22, to_celsius: 41 }),
    },
    {
      from: fromMemory(41, CRAIG_1965),
      coefficient: fromMemory(1048e-6, 'craig-1965-span', { from_celsius: 41, to_celsius: 50 }),
    },
  ],
  measuredTo: fromMemory(50, CRAIG_1965),
  ...sharedThermal,
  conductivity: { solid: commonPractice(0.25, 'crane-1990'), liquid: sharedThermal.conductivity.liquid },
  density: { solid: commonPractice(964, 'beekeeping-density'), liquid: sharedThermal.density.liquid },
  ...sharedKinetics(72),
  relaxation: sharedRelaxation(40),
};

export const carnauba: WaxClass = {
  id: 'carnauba',
  name: 'Carnauba',
  workingWindow: softAt(76, 84),
  potWindow: potAbove(91),
  ceiling: ceilingAbove(91),
  transition: belowMelting(84),
  melting: span(fromMemory, 84, 91, CRAIG_BOOK),
  storageMax,
  flow: [],
  expansion: [
    {
      from: fromMemory(22, CRAIG_1965),
      coefficient: fromMemory(156e-6, 'craig-1965-span', { from_celsius: 22, to_celsius: 52 }),
    },
  ],
  measuredTo: fromMemory(52, CRAIG_1965),
  ...sharedThermal,
  ...sharedKinetics(98),
  relaxation: sharedRelaxation(69),
};

export const candelilla: WaxClass = {
  id: 'candelilla',
  name: 'Candelilla',
  workingWindow: softAt(60, 68),
  potWindow: potAbove(75),
  ceiling: ceilingAbove(75),
  transition: belowMelting(68),
  melting: span(fromMemory, 68, 75, CRAIG_BOOK),
  storageMax,
  flow: [],
  ...expansionLikeInlay(53),
  ...sharedThermal,
  ...sharedKinetics(82),
  relaxation: sharedRelaxation(53),
};
