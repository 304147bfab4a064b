// Inlay waxes: Type 1 (medium, worked in the mouth), Type 2 (soft, worked on the die) and dip wax.
// Older texts count these types as A, B and C; the numbering here is that of ADA No. 4 and ISO 1561.

import type { WaxClass } from './wax-properties.ts';
import { commonPractice, fromMemory } from './wax-value.ts';
import {
  ADA_4,
  CRAIG_1965,
  meltingOfOneWax,
  practice,
  sharedKinetics,
  sharedRelaxation,
  sharedThermal,
} from './shared.ts';

/**
 * Up to the transition as Craig has it. Above, 958e-6/K makes 1.25 % of 27 to 47 °C, the middle of the 1 to 1.5 % found
 * for crown pattern waxes; Craig's 629e-6/K of one hard wax gives 0.94 %, less than any of them.
 */
const inlayExpansion = {
  expansion: [
    {
      from: fromMemory(22, CRAIG_1965),
      coefficient: fromMemory(323e-6, 'craig-1965-hard-inlay', { from_celsius: 22, to_celsius: 37.5 }),
    },
    { from: fromMemory(37.5, CRAIG_1965), coefficient: commonPractice(958e-6, 'crown-pattern-waxes') },
  ],
  measuredTo: commonPractice(47, 'crown-pattern-waxes'),
} as const;

const stick = {
  workingWindow: practice(45, 52, 'softened-for-carving'),
  potWindow: practice(70, 80, 'melting-to-pot-maximum'),
  annealWindow: practice(48, 52, 'dry-heat-of-sticks'),
  bathWindow: practice(54, 60, 'softened-in-bath'),
  ceiling: commonPractice(90, 'pot-maximum-range', { low_celsius: 80, high_celsius: 90 }),
  melting: meltingOfOneWax([62, 70], [55, 70]),
  storageMax: commonPractice(25, 'steady-cool-room'),
  ...inlayExpansion,
  ...sharedThermal,
  ...sharedKinetics(75),
} as const;

const flow45 = {
  test: 'flow',
  celsius: 45,
  atLeast: fromMemory(70, ADA_4),
  atMost: fromMemory(90, ADA_4),
} as const;

export const inlayType1: WaxClass = {
  id: 'inlay-type-1',
  name: 'Inlay wax Type 1',
  expansionLimits: [
    { fromCelsius: 25, toCelsius: 30, atMost: fromMemory(0.002, ADA_4) },
    { fromCelsius: 25, toCelsius: 37, atMost: fromMemory(0.006, ADA_4) },
  ],
  flow: [
    { test: 'flow', celsius: 37, atMost: fromMemory(1, ADA_4) },
    { test: 'flow', celsius: 40, atMost: fromMemory(20, ADA_4) },
    flow45,
  ],
  transition: practice(40, 45, 'between-flow-limits'),
  relaxation: sharedRelaxation(40),
  ...stick,
};

export const inlayType2: WaxClass = {
  id: 'inlay-type-2',
  name: 'Inlay wax Type 2',
  flow: [
    { test: 'flow', celsius: 30, atMost: fromMemory(1, ADA_4) },
    { test: 'flow', celsius: 40, atLeast: fromMemory(50, ADA_4) },
    flow45,
  ],
  transition: practice(35, 40, 'upper-part-of-flow-limits'),
  relaxation: sharedRelaxation(35),
  ...stick,
};

export const inlayDip: WaxClass = {
  id: 'inlay-dip',
  name: 'Dip wax',
  workingWindow: practice(85, 95),
  potWindow: practice(85, 95),
  ceiling: commonPractice(100, 'pot-maximum'),
  transition: practice(35, 45),
  melting: practice(60, 75),
  storageMax: commonPractice(25, 'steady-cool-room'),
  flow: [],
  ...inlayExpansion,
  ...sharedThermal,
  ...sharedKinetics(90),
  relaxation: sharedRelaxation(35),
};
