// Processing waxes: boxing, utility and sticky wax.

import type { WaxClass } from './wax-properties.ts';
import { commonPractice, fromMemory, span } from './wax-value.ts';
import { expansionLikeInlay, practice, sharedKinetics, sharedRelaxation, sharedThermal } from './shared.ts';

const pliable = {
  transition: practice(25, 35),
  storageMax: commonPractice(23, 'below-softening'),
  ...expansionLikeInlay(25),
  ...sharedThermal,
  relaxation: sharedRelaxation(25),
} as const;

/** Its federal description demands that it soften from 65.6 to 77.8 °C by ring and ball, so a pot is above that. */

export const boxing: WaxClass = {
  id: 'boxing',
  name: 'Boxing wax',
  workingWindow: practice(21, 25, 'pliable-by-hand'),
  potWindow: practice(80, 88, 'above-melting-for-pots'),
  ceiling: commonPractice(98, 'above-melting-for-ceilings'),
  melting: span(fromMemory, 65.6, 77.8, 'boxing-ring-and-ball'),
  flow: [],
  ...sharedKinetics(84),
  ...pliable,
};

export const utility: WaxClass = {
  id: 'utility',
  name: 'Utility wax',
  workingWindow: practice(21, 24, 'pliable-and-tacky'),
  potWindow: practice(60, 65),
  ceiling: commonPractice(70, 'pot-maximum-range', { low_celsius: 65, high_celsius: 70 }),
  melting: practice(45, 60),
  ...sharedKinetics(62),
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
  workingWindow: practice(72, 80, 'used-melted'),
  potWindow: practice(72, 80, 'used-melted'),
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
  ...sharedKinetics(76),
  relaxation: sharedRelaxation(30),
};
