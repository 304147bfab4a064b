// Baseplate waxes, soft, hard and extra hard (Types I to III of ADA No. 24). ISO 15854:2023 is the current
// standard; its flow table was not seen and may differ.

import type { WaxClass } from './wax-properties.ts';
import { commonPractice, fromMemory } from './wax-value.ts';
import {
  ADA_24,
  expansionLikeInlay,
  meltingOfOneWax,
  practice,
  sharedKinetics,
  sharedRelaxation,
  sharedThermal,
} from './shared.ts';

const baseplate = (transitionLow: number, transitionHigh: number, ceiling: number) => ({
  workingWindow: practice(40, 55, 'softened-over-flame'),
  potWindow: practice(64, 72),
  bathWindow: practice(40, 55),
  ceiling: commonPractice(ceiling, 'pot-maximum-range', { low_celsius: 75, high_celsius: 80 }),
  transition: practice(transitionLow, transitionHigh, 'wax-makers-page'),
  melting: meltingOfOneWax([57, 62], [48, 62], 'baseplate-melting'),
  storageMax: commonPractice(25, 'cool-room'),
  ...expansionLikeInlay(transitionLow),
  expansionLimits: [{ fromCelsius: 25, toCelsius: 40, atMost: fromMemory(0.008, ADA_24) }],
  ...sharedThermal,
  solidificationShrinkage: commonPractice(0.09, 'saudi-2017'),
  ...sharedKinetics(68),
  relaxation: sharedRelaxation(transitionLow),
});

export const baseplateSoft: WaxClass = {
  id: 'baseplate-soft',
  name: 'Baseplate wax, soft',
  flow: [
    { test: 'flow', celsius: 23, atMost: fromMemory(1, ADA_24) },
    { test: 'flow', celsius: 37, atLeast: fromMemory(5, ADA_24), atMost: fromMemory(90, ADA_24) },
  ],
  ...baseplate(35, 41, 75),
};

export const baseplateHard: WaxClass = {
  id: 'baseplate-hard',
  name: 'Baseplate wax, hard',
  flow: [
    { test: 'flow', celsius: 23, atMost: fromMemory(0.6, ADA_24) },
    { test: 'flow', celsius: 37, atMost: fromMemory(10, ADA_24) },
    { test: 'flow', celsius: 45, atLeast: fromMemory(50, ADA_24), atMost: fromMemory(90, ADA_24) },
  ],
  ...baseplate(35, 41, 80),
};

export const baseplateExtraHard: WaxClass = {
  id: 'baseplate-extra-hard',
  name: 'Baseplate wax, extra hard',
  flow: [
    { test: 'flow', celsius: 23, atMost: fromMemory(0.2, ADA_24) },
    { test: 'flow', celsius: 37, atMost: fromMemory(1.2, ADA_24) },
    { test: 'flow', celsius: 45, atLeast: fromMemory(5, ADA_24), atMost: fromMemory(50, ADA_24) },
  ],
  ...baseplate(41, 45, 80),
};
