// Processing waxes: boxing, utility and sticky wax.

import type { WaxClass } from './wax-properties.ts';
import { commonPractice } from './wax-value.ts';
import { expansionLikeInlay, practice, sharedKinetics, sharedRelaxation, sharedThermal } from './shared.ts';

const pliable = {
  potWindow: practice(60, 65),
  ceiling: commonPractice(70, 'sensible pot maximum 65 to 70 °C; usual in the dental laboratory'),
  transition: practice(25, 35),
  melting: practice(45, 60),
  storageMax: commonPractice(23, 'below its softening; no published limit known'),
  ...expansionLikeInlay(25),
  ...sharedThermal,
  ...sharedKinetics(62),
  relaxation: sharedRelaxation(25),
} as const;

export const boxing: WaxClass = {
  id: 'boxing',
  name: 'Boxing wax',
  workingWindow: practice(21, 25, 'pliable at 21 °C, shaped by hand; usual in the dental laboratory'),
  flow: [],
  ...pliable,
};

export const utility: WaxClass = {
  id: 'utility',
  name: 'Utility wax',
  workingWindow: practice(21, 24, 'pliable and tacky; usual in the dental laboratory'),
  flow: [
    {
      test: 'flow',
      celsius: 37.5,
      atLeast: commonPractice(65, 'usual in the trade'),
      atMost: commonPractice(80, 'usual in the trade'),
    },
  ],
  ...pliable,
};

export const sticky: WaxClass = {
  id: 'sticky',
  name: 'Sticky wax',
  workingWindow: practice(65, 80, 'used melted; usual in the dental laboratory'),
  potWindow: practice(65, 80),
  ceiling: commonPractice(90, 'sensible pot maximum; usual in the dental laboratory'),
  transition: practice(30, 43, 'between its two flow limits'),
  melting: practice(60, 70),
  storageMax: commonPractice(25, 'cool room temperature; no published limit known'),
  flow: [
    { test: 'flow', celsius: 30, atMost: commonPractice(5, 'usual in the trade') },
    { test: 'flow', celsius: 43, atLeast: commonPractice(90, 'usual in the trade') },
  ],
  ...expansionLikeInlay(30),
  ...sharedThermal,
  ...sharedKinetics(72),
  relaxation: sharedRelaxation(30),
};
