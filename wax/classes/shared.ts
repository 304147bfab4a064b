// Figures that all classes share until a class has its own, and the ways that the tables write them down.
// None of the kinetics and relaxation figures is a measurement on dental wax; each is marked so.

import type { Technique } from './technique.ts';
import type { RelaxationProperties, WaxClass } from './wax-properties.ts';
import { commonPractice, fromMemory, span, type WaxSpan, type WaxValue } from './wax-value.ts';

export const practice = (low: number, high: number, code = 'laboratory-practice'): WaxSpan =>
  span(commonPractice, low, high, code);

/**
 * The melting of one wax, assumed within the trade's range across all grades of the class: above where the class is
 * softened for work, since a piece that is softened there keeps its shape.
 */
export const meltingOfOneWax = (
  [low, high]: readonly [number, number],
  [gradesLow, gradesHigh]: readonly [number, number],
  code = 'melting-of-one-wax',
): WaxSpan => {
  const grades = { low_celsius: gradesLow, high_celsius: gradesHigh };
  return { low: commonPractice(low, code, grades), high: commonPractice(high, code, grades) };
};

export const ADA_4 = 'ada-4';
export const ADA_24 = 'ada-24';
export const CRAIG_1965 = 'craig-1965';
export const CRAIG_BOOK = 'craig-book';

/** What heat does to any of these waxes; a class spreads this and replaces what is known of it. */
export const sharedThermal = {
  solidificationShrinkage: commonPractice(0.1, 'ragnarsson-1996'),
  conductivity: {
    solid: fromMemory(0.25, 'crc-solid-conductivity'),
    liquid: fromMemory(0.15, 'crc-liquid-conductivity'),
  },
  density: {
    solid: commonPractice(900, 'density-as-paraffin'),
    liquid: fromMemory(780, 'crc-liquid-density'),
  },
  heatCapacity: {
    solid: commonPractice(2500, 'encyclopaedia-heat-capacity'),
    liquid: commonPractice(2200, 'liquid-heat-capacity'),
  },
  latentHeat: commonPractice(180e3, 'latent-heat-of-blends'),
} as const;

/** Ageing in the pot, per hour at the middle of the class's own pot window. */
export const sharedKinetics = (referenceCelsius: number): Pick<WaxClass, 'kinetics' | 'doseAllowance'> => ({
  kinetics: {
    activationEnergy: commonPractice(100e3, 'generic-ageing-energy'),
    reference: commonPractice(referenceCelsius, 'generic-ageing-reference'),
    evaporationEnthalpy: fromMemory(126.8e3, 'chickos-2004'),
  },
  doseAllowance: commonPractice(160, 'generic-dose-allowance'),
});

const frozenStrainOf = (value: number, technique: Technique): WaxValue =>
  commonPractice(value, `generic-strain-${technique}`);

/**
 * Relaxation. A wax with a lower transition relaxes like a stiffer one at a temperature lower by as much
 * (Katakura and Kawakami, Shika Rikogaku Zasshi 21:288, 1980: the curves shift with the transition), so the
 * generic time constant is taken 15 °C below the transition of each class.
 */
export const sharedRelaxation = (transitionLow: number): RelaxationProperties => ({
  reference: commonPractice(transitionLow - 15, 'generic-relaxation-reference'),
  tau: commonPractice(86_400, 'generic-relaxation-time'),
  beta: commonPractice(0.5, 'generic-relaxation-exponent'),
  activationEnergy: commonPractice(100e3, 'generic-relaxation-energy'),
  frozenStrain: {
    layered: frozenStrainOf(0.003, 'layered'),
    dipped: frozenStrainOf(0.002, 'dipped'),
    pressed: frozenStrainOf(0.004, 'pressed'),
    sheet: frozenStrainOf(0.006, 'sheet'),
  },
  spread: {
    tauFactor: commonPractice(3, 'generic-assumed'),
    beta: commonPractice(0.1, 'generic-assumed'),
    frozenStrainShare: commonPractice(0.5, 'generic-assumed'),
  },
});

/** Waxes without a measurement of their own: the two slopes of hard inlay wax, bent at their own transition. */
export const expansionLikeInlay = (transitionLow: number): Pick<WaxClass, 'expansion' | 'measuredTo'> => {
  const assumed = 'generic-expansion';
  return {
    expansion: [
      { from: commonPractice(20, assumed), coefficient: commonPractice(323e-6, assumed) },
      { from: commonPractice(transitionLow, assumed), coefficient: commonPractice(629e-6, assumed) },
    ],
    measuredTo: commonPractice(transitionLow + 7.5, assumed),
  };
};
