// The curve that a bent-stick test is fitted with, and its derivatives by ln A, ln τ (hours), β and E (100 kJ/mol).

import type { BentStick } from './bent-stick-test.ts';
import { arrheniusRate, meanThermalFactor } from '../heat/thermal-rate.ts';
import type { Celsius, JoulesPerMole } from '../units.ts';

export interface OpeningRow {
  /** Number of the stick, from 1. */
  readonly stick: number;
  readonly hours: number;
  readonly millimetres: number;
  readonly temperatures: readonly { readonly hours: number; readonly celsius: Celsius }[];
}

export const openingRows = (sticks: readonly BentStick[]): OpeningRow[] =>
  sticks.flatMap(({ celsius, openings }, i) => {
    const temperatures = typeof celsius === 'number' ? [{ hours: 0, celsius }] : celsius;
    return openings.map(({ hours, millimetres }) => ({ stick: i + 1, hours, millimetres, temperatures }));
  });

/** Middle of the test's temperatures, to the degree: there τ and E are told apart best. */
export function referenceOf(sticks: readonly BentStick[]): Celsius {
  const means = sticks.map(({ celsius }) =>
    typeof celsius === 'number'
      ? celsius
      : celsius.reduce((sum, place) => sum + place.celsius, 0) / celsius.length,
  );
  return Math.round(means.reduce((sum, mean) => sum + mean, 0) / means.length) as Celsius;
}

const ENERGY_UNIT = 1e5;

/** Hours at the reference temperature worth as much as the hours of this row; straight lines between temperatures. */
export function reducedHours(row: OpeningRow, energy: number, reference: Celsius): number {
  const rate = arrheniusRate((energy * ENERGY_UNIT) as JoulesPerMole, reference);
  let reduced = 0;
  for (const [i, { hours, celsius }] of row.temperatures.entries()) {
    const next = row.temperatures[i + 1];
    const [from, to] = [Math.max(0, hours), Math.min(row.hours, next?.hours ?? row.hours)];
    if (to <= from) continue;
    const at = (hour: number): number =>
      next === undefined
        ? celsius
        : celsius + ((next.celsius - celsius) * (hour - hours)) / (next.hours - hours);
    reduced += (to - from) * meanThermalFactor(rate, at(from), at(to));
  }
  return reduced;
}

export function openingOf(parameters: readonly number[], row: OpeningRow, reference: Celsius): number {
  const [logAmplitude = 0, logTau = 0, beta = 1, energy = 0] = parameters;
  const ratio = reducedHours(row, energy, reference) / Math.exp(logTau);
  // A search may try values that no wax has, and turns away from them by what they answer.
  return Math.exp(logAmplitude) * -Math.expm1(-(ratio ** beta));
}

const ENERGY_STEP = 1e-5;

export function gradientOfOpening(
  parameters: readonly number[],
  row: OpeningRow,
  reference: Celsius,
): readonly [number, number, number, number] {
  const [logAmplitude = 0, logTau = 0, beta = 1, energy = 0] = parameters;
  const amplitude = Math.exp(logAmplitude);
  const logReduced = (at: number): number => Math.log(reducedHours(row, at, reference));
  const logRatio = logReduced(energy) - logTau;
  const s = Math.exp(beta * logRatio);
  const common = amplitude * Math.exp(-s) * s;
  const byEnergy = (logReduced(energy + ENERGY_STEP) - logReduced(energy - ENERGY_STEP)) / (2 * ENERGY_STEP);
  return [amplitude * -Math.expm1(-s), -common * beta, common * logRatio, common * beta * byEnergy];
}
