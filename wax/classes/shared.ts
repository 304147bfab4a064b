// Figures that all classes share until a class has its own, and the ways that the tables write them down.
// None of the kinetics and relaxation figures is a measurement on dental wax; each says so.

import type { RelaxationProperties, WaxClass } from './wax-properties.ts';
import { commonPractice, fromMemory, published, span, type WaxValue } from './wax-value.ts';

const PRACTICE = 'usual in the dental laboratory; makers’ sheets differ by 5 to 10 °C';
const GENERIC = 'generic, uncalibrated';

export const practice = (low: number, high: number, note = PRACTICE) => span(commonPractice, low, high, note);

export const ADA_4 = 'ANSI/ADA Specification No. 4 (ISO 1561), dental inlay casting wax';
export const ADA_24 = 'ANSI/ADA Specification No. 24, dental baseplate wax';
export const CRAIG_1965 = 'Craig, Eick and Peyton, J Dent Res 44:1300, 1965';
export const CRAIG_BOOK = 'Craig, Restorative Dental Materials, chapter on waxes';

/** What heat does to any of these waxes; a class spreads this and replaces what it knows better. */
export const sharedThermal = {
  solidificationShrinkage: commonPractice(
    0.1,
    'about 10 % by volume on solidifying, a web page quoting Ragnarsson 1996; 11 to 15 % is usual in textbooks of the trade',
  ),
  conductivity: {
    solid: fromMemory(0.25, 'paraffin 0.21 to 0.26 W/(m K), CRC Handbook of Chemistry and Physics'),
    liquid: fromMemory(0.15, 'liquid paraffin, CRC Handbook of Chemistry and Physics'),
  },
  density: {
    solid: published(900, 'solid paraffin, about 900 kg/m³, general encyclopaedia'),
    liquid: fromMemory(780, 'liquid paraffin 760 to 790 kg/m³, CRC Handbook of Chemistry and Physics'),
  },
  heatCapacity: {
    solid: published(2500, 'paraffin 2140 to 2900 J/(kg K), general encyclopaedia'),
    liquid: commonPractice(2200, 'liquid paraffin in engineering estimates'),
  },
  latentHeat: commonPractice(
    180e3,
    'impure and dental waxes 150 to 200 kJ/kg, pure paraffin 200 to 220 kJ/kg; no publication known for this blend',
  ),
} as const;

/** Ageing in the pot, per hour at the middle of the class's own pot window. */
export const sharedKinetics = (referenceCelsius: number): Pick<WaxClass, 'kinetics' | 'doseAllowance'> => ({
  kinetics: {
    activationEnergy: commonPractice(
      100e3,
      `${GENERIC}: assumed, the middle of 80 to 120 kJ/mol as polymer-oxidation literature has it for hydrocarbons and polyethylene; none known for dental wax`,
    ),
    reference: commonPractice(
      referenceCelsius,
      `${GENERIC}: the temperature at which this wax is usually kept`,
    ),
    evaporationEnthalpy: fromMemory(
      126.8e3,
      'n-pentacosane at 298 K, Chickos and Hanshaw, J Chem Eng Data 49:77, 2004; a wax is a blend',
    ),
  },
  doseAllowance: commonPractice(
    160,
    `${GENERIC}: four working weeks of 40 h at the usual temperature; no published limit known`,
  ),
});

const frozen = (value: number, how: string): WaxValue =>
  commonPractice(
    value,
    `${GENERIC}: ${how}; an assumed part of the 0.4 to 0.9 % that the wax would contract from setting to the bench`,
  );

/**
 * Relaxation. A wax with a lower transition relaxes like a stiffer one at a temperature lower by as much
 * (Katakura and Kawakami, Shika Rikogaku Zasshi 21:288, 1980: the curves shift with the transition), so the
 * generic time constant is taken 15 °C below the transition of each class.
 */
export const sharedRelaxation = (transitionLow: number): RelaxationProperties => ({
  reference: commonPractice(
    transitionLow - 15,
    `${GENERIC}: 15 °C below the transition of this class; the shift with the transition after Katakura and Kawakami 1980, the size assumed`,
  ),
  tau: commonPractice(
    86_400,
    `${GENERIC}: a bent stick opens visibly within a day at room temperature; the size assumed`,
  ),
  beta: commonPractice(
    0.5,
    `${GENERIC}: stretched exponentials of dental polymers lie near 0.3 to 0.7; assumed`,
  ),
  activationEnergy: commonPractice(100e3, `${GENERIC}: 80 to 150 kJ/mol is a guess, none measured on wax`),
  frozenStrain: {
    layered: frozen(0.003, 'melted on in layers'),
    dipped: frozen(0.002, 'dipped in one piece'),
    pressed: frozen(0.004, 'softened and pressed'),
    sheet: frozen(0.006, 'sheet bent to shape'),
  },
  spread: {
    tauFactor: commonPractice(3, `${GENERIC}: assumed`),
    beta: commonPractice(0.1, `${GENERIC}: assumed`),
    frozenStrainShare: commonPractice(0.5, `${GENERIC}: assumed`),
  },
});

/** Waxes without a measurement of their own: the two slopes of hard inlay wax, bent at their own transition. */
export const expansionLikeInlay = (transitionLow: number): Pick<WaxClass, 'expansion' | 'measuredTo'> => {
  const assumed = `${GENERIC}: as hard inlay wax (${CRAIG_1965}), bent at this class's own transition`;
  return {
    expansion: [
      { from: commonPractice(20, assumed), coefficient: commonPractice(323e-6, assumed) },
      { from: commonPractice(transitionLow, assumed), coefficient: commonPractice(629e-6, assumed) },
    ],
    measuredTo: commonPractice(transitionLow + 7.5, assumed),
  };
};
