// Impression waxes: bite registration and corrective. Their published test is penetration, not flow.

import type { WaxClass } from './wax-properties.ts';
import { commonPractice, published } from './wax-value.ts';
import {
  expansionLikeInlay,
  meltingOfOneWax,
  practice,
  sharedKinetics,
  sharedRelaxation,
  sharedThermal,
} from './shared.ts';

const POWERS_1978 = 'powers-1978';

const impression = {
  transition: practice(31, 37, 'near-mouth-temperature'),
  storageMax: commonPractice(23, 'cool-room'),
  ...expansionLikeInlay(31),
  ...sharedThermal,
  relaxation: sharedRelaxation(31),
} as const;

export const biteRegistration: WaxClass = {
  id: 'bite-registration',
  name: 'Bite registration wax',
  workingWindow: practice(43, 55),
  bathWindow: practice(43, 55),
  ceiling: commonPractice(65, 'sensible-maximum'),
  melting: meltingOfOneWax([57, 60], [45, 60]),
  flow: [
    {
      test: 'penetration',
      celsius: 37,
      atLeast: published(2.5, POWERS_1978),
      atMost: published(22, POWERS_1978),
    },
  ],
  ...impression,
  ...sharedKinetics(60),
};

export const correctiveImpression: WaxClass = {
  id: 'corrective-impression',
  name: 'Corrective impression wax',
  workingWindow: practice(40, 45),
  bathWindow: practice(40, 45),
  ceiling: commonPractice(60, 'sensible-maximum'),
  melting: meltingOfOneWax([47, 50], [40, 50]),
  flow: [{ test: 'penetration', celsius: 37, atLeast: published(100, POWERS_1978) }],
  ...impression,
  ...sharedKinetics(50),
};
