// Ageing of the wax in a pot: equivalent hours at 70 °C by Arrhenius, with the energy that is assumed for hydrocarbons
// where none was measured (100 kJ/mol, the middle of 80 to 120).

import { HOUR } from '../days/calendar.ts';
import { column, type PlaceRecord } from '../world/record.ts';

const JOULES_PER_MOLE = 100_000;
const GAS_CONSTANT = 8.31446261815324;
const REFERENCE_KELVIN = 343.15;
const COOLEST = 0;
const WARMEST = 300;
const STEPS_PER_KELVIN = 20;

/** Rates at every twentieth of a kelvin: a week by the second needs a million of them. */
const RATES = Float64Array.from({ length: (WARMEST - COOLEST) * STEPS_PER_KELVIN + 1 }, (_, i) => {
  const kelvin = COOLEST + i / STEPS_PER_KELVIN + 273.15;
  return Math.exp((JOULES_PER_MOLE / GAS_CONSTANT) * (1 / REFERENCE_KELVIN - 1 / kelvin));
});

/** Equivalent hours from one instant to another; exact to 0.1 %. */
export const chargeDose = (record: PlaceRecord, spot: string, from: number, to: number): number => {
  const celsius = column(record, spot);
  const first = Math.max(0, Math.floor((from - record.from) / record.stepMillis));
  const last = Math.min(celsius.length, Math.floor((to - record.from) / record.stepMillis));
  let sum = 0;
  for (let i = first; i < last; i += 1)
    sum += RATES[Math.round(((celsius[i] ?? 0) - COOLEST) * STEPS_PER_KELVIN)] ?? 0;
  return (sum * record.stepMillis) / HOUR;
};
