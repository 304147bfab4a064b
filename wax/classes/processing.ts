// Processing waxes: boxing, utility and sticky wax.

import type { WaxClass } from './wax-properties.ts';
import { commonPractice } from './wax-value.ts';
import { expansionLikeInlay, practice, sharedKinetics, sharedRelaxation, sharedThermal } from './shared.ts';

const pliable = {
  potWindow: practice(60, 65),
  ceiling: commonPractice(70, 'pot-maximum-range', { low_celsius: 65, high_celsius: 70 }),
  transition: practice(25, 35),
  melting: practice(45, 60),
  storageMax: commonPractice(23, 'below-softening'),
  ...expansionLikeInlay(25),
  ...sharedThermal,
  ...sharedKinetics(62),
  relaxation: sharedRelaxation(25),
} as const;

export const boxing: WaxClass = {
  id: 'boxing',
  name: 'Boxing wax',
  workingWindow: practice(21, 25, 'pliable-by-hand'),
  flow: [],
  ...pliable,
};

export const utility: WaxClass = {
  id: 'utility',
  name: 'Utility wax',
  workingWindow: practice(21, 24, 'pliable-and-tacky'),
  flow: [
    {
      test: 'flow',
      celsius: 37.5,
      atLeast: commonPractice(65, 'trade-practice'),
      atMost: commonPractice(80, 'trade-practice'),
    },
  ],
  ...pliable,
};

export const sticky: WaxClass = {
  id: 'sticky',
  name: 'Sticky wax',
  workingWindow: practice(65, 80, 'used-melted'),
  potWindow: practice(65, 80),
  ceiling: commonPractice(90, 'pot-maximum'),
  transition: practice(30, 43, 'between-flow-limits'),
  melting: practice(60, 70),
  storageMax: commonPractice(25, 'cool-room'),
  flow: [
    { test: 'flow', celsius: 30, atMost: commonPractice(5, 'trade-practice') },
    { test: 'flow', celsius: 43, atLeast: commonPractice(90, 'trade-practice') },
  ],
  ...expansionLikeInlay(30),
  ...sharedThermal,
  ...sharedKinetics(72),
  relaxation: sharedRelaxation(30),
};
