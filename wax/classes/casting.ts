// Casting waxes: sheets and ready-made shapes for frameworks. Two flow classes: one is limited at 35 °C, the
// other must flow at 38 °C. ISO 15854:2023 is the current standard; its flow table was not seen.

import type { WaxClass } from './wax-properties.ts';
import { commonPractice, fromMemory } from './wax-value.ts';
import { expansionLikeInlay, practice, sharedKinetics, sharedRelaxation, sharedThermal } from './shared.ts';

const FRAME_TEXT = 'withdrawn-specification';

const sheet = {
  workingWindow: practice(35, 45, 'warmed-then-adapted'),
  potWindow: practice(70, 75),
  ceiling: commonPractice(80, 'pot-maximum'),
  transition: practice(35, 40),
  melting: practice(55, 70),
  storageMax: commonPractice(25, 'steady-cool-room'),
  ...expansionLikeInlay(35),
  ...sharedThermal,
  ...sharedKinetics(72),
  relaxation: sharedRelaxation(35),
} as const;

export const castingThinnerFlow: WaxClass = {
  id: 'casting-thinner-flow',
  name: 'Casting wax, limited flow at 35 °C',
  flow: [{ test: 'flow', celsius: 35, atMost: fromMemory(10, FRAME_TEXT) }],
  ...sheet,
};

export const castingFreerFlow: WaxClass = {
  id: 'casting-freer-flow',
  name: 'Casting wax, must flow at 38 °C',
  flow: [{ test: 'flow', celsius: 38, atLeast: fromMemory(60, FRAME_TEXT) }],
  ...sheet,
};
