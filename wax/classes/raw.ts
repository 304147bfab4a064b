// Raw waxes of which the dental ones are blended. Where a window or ceiling is not known in the trade it is put
// at a stated distance from the melting range, and says so.

import type { WaxClass } from './wax-properties.ts';
import { commonPractice, fromMemory, published, span } from './wax-value.ts';
import {
  CRAIG_1965,
  CRAIG_BOOK,
  expansionLikeInlay,
  practice,
  sharedKinetics,
  sharedRelaxation,
  sharedThermal,
} from './shared.ts';

const storageMax = commonPractice(25, 'cool room temperature; no published limit known');
const ceilingAbove = (meltingHigh: number) =>
  commonPractice(meltingHigh + 20, '20 °C above the end of melting; no figure of the trade known');
const potAbove = (meltingHigh: number) =>
  practice(
    meltingHigh + 2,
    meltingHigh + 12,
    '2 to 12 °C above the end of melting; no figure of the trade known',
  );
const softAt = (low: number, high: number) =>
  practice(low, high, 'between softening and melting; no figure of the trade known');
/** Paraffin's transition lies 8 to 15 °C below its melting; assumed for raw waxes without a figure of their own. */
const belowMelting = (meltingLow: number) =>
  practice(meltingLow - 15, meltingLow - 8, `assumed 8 to 15 °C below melting, as paraffin in ${CRAIG_BOOK}`);

export const paraffin: WaxClass = {
  id: 'paraffin',
  name: 'Paraffin',
  workingWindow: softAt(34, 46),
  potWindow: potAbove(68),
  ceiling: ceilingAbove(68),
  transition: span(fromMemory, 28, 34, `the steep part of its expansion curve, ${CRAIG_1965}`),
  melting: span(published, 46, 68, 'typical trade range, general encyclopaedia'),
  storageMax,
  flow: [],
  expansion: [
    { from: fromMemory(20, CRAIG_1965), coefficient: fromMemory(307e-6, `20 to 28 °C, ${CRAIG_1965}`) },
    { from: fromMemory(28, CRAIG_1965), coefficient: fromMemory(1631e-6, `28 to 34 °C, ${CRAIG_1965}`) },
    { from: fromMemory(34, CRAIG_1965), coefficient: fromMemory(1307e-6, `34 to 50 °C, ${CRAIG_1965}`) },
  ],
  measuredTo: fromMemory(50, CRAIG_1965),
  ...sharedThermal,
  latentHeat: published(200e3, 'paraffin 200 to 220 kJ/kg, general encyclopaedia'),
  ...sharedKinetics(75),
  relaxation: sharedRelaxation(28),
};

export const microcrystalline: WaxClass = {
  id: 'microcrystalline',
  name: 'Microcrystalline wax',
  workingWindow: softAt(52, 60),
  potWindow: potAbove(91),
  ceiling: ceilingAbove(91),
  transition: belowMelting(60),
  melting: span(fromMemory, 60, 91, CRAIG_BOOK),
  storageMax,
  flow: [],
  ...expansionLikeInlay(45),
  ...sharedThermal,
  ...sharedKinetics(98),
  relaxation: sharedRelaxation(45),
};

export const beeswax: WaxClass = {
  id: 'beeswax',
  name: 'Beeswax',
  workingWindow: softAt(40, 55),
  potWindow: practice(
    68,
    77,
    'from the end of melting to where the aroma begins to suffer, beekeeping pages without a source',
  ),
  ceiling: commonPractice(85, 'discolours above 85 °C, beekeeping pages without a source'),
  transition: {
    low: commonPractice(40, 'about 40 °C; usual in the trade'),
    high: fromMemory(41, `the bend of its expansion curve, ${CRAIG_1965}`),
  },
  melting: practice(61, 66, 'a web page citing Crane 1990; 62 to 65 °C is usual'),
  storageMax,
  flow: [],
  expansion: [
    { from: fromMemory(22, CRAIG_1965), coefficient: fromMemory(344e-6, `22 to 41 °C, ${CRAIG_1965}`) },
    { from: fromMemory(41, CRAIG_1965), coefficient: fromMemory(1048e-6, `41 to 50 °C, ${CRAIG_1965}`) },
  ],
  measuredTo: fromMemory(50, CRAIG_1965),
  ...sharedThermal,
  conductivity: {
    solid: commonPractice(0.25, 'a web page citing Crane 1990'),
    liquid: sharedThermal.conductivity.liquid,
  },
  density: {
    solid: commonPractice(964, '958 to 970 kg/m³ at 15 °C, beekeeping pages without a source'),
    liquid: sharedThermal.density.liquid,
  },
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
    { from: fromMemory(22, CRAIG_1965), coefficient: fromMemory(156e-6, `22 to 52 °C, ${CRAIG_1965}`) },
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
