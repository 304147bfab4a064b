// How far a probe may be off when new, by its tolerance class, as ± kelvins at a temperature.
// Sources: IEC 60751 (platinum) and IEC 60584-1 (thermocouples), from memory; one-wire sensors by the makers' data.
// A class is a promise about the type, not a measurement: calibration replaces it.

import { isWithin, rowOf } from '../reading-guard.ts';
import { failure, type Result, success } from '../result.ts';
import type { Celsius } from '../units.ts';

export type ToleranceClass =
  | 'platinum-AA'
  | 'platinum-A'
  | 'platinum-B'
  | 'platinum-C'
  | 'K-1'
  | 'K-2'
  | 'T-1'
  | 'T-2'
  | 'one-wire';

interface Tolerance {
  readonly least: number;
  readonly most: number;
  readonly kelvins: (magnitude: number, celsius: number) => number;
}

/** Ranges are those of wire-wound elements for platinum. */
const TOLERANCE: Readonly<Record<ToleranceClass, Tolerance>> = {
  'platinum-AA': { least: -50, most: 250, kelvins: (t) => 0.1 + 0.0017 * t },
  'platinum-A': { least: -100, most: 450, kelvins: (t) => 0.15 + 0.002 * t },
  'platinum-B': { least: -196, most: 600, kelvins: (t) => 0.3 + 0.005 * t },
  'platinum-C': { least: -196, most: 600, kelvins: (t) => 0.6 + 0.01 * t },
  'K-1': { least: -40, most: 1000, kelvins: (t) => Math.max(1.5, 0.004 * t) },
  'K-2': { least: -40, most: 1200, kelvins: (t) => Math.max(2.5, 0.0075 * t) },
  'T-1': { least: -40, most: 350, kelvins: (t) => Math.max(0.5, 0.004 * t) },
  'T-2': { least: -40, most: 350, kelvins: (t) => Math.max(1, 0.0075 * t) },
  'one-wire': { least: -55, most: 125, kelvins: (_, t) => (t >= -10 && t <= 85 ? 0.5 : 2) },
};

/** ± kelvins at a temperature. */
export function toleranceOf(kind: ToleranceClass, celsius: Celsius): Result<number> {
  const { least, most, kelvins } = rowOf(TOLERANCE, kind, 'tolerance class');
  return isWithin(celsius, least, most)
    ? success(kelvins(Math.abs(celsius), celsius))
    : failure('outside-probe-range', { least_celsius: least, most_celsius: most }, celsius);
}

/** Standard uncertainty of a tolerance: a rectangular distribution, half-width/√3 (GUM 4.3.7; from memory). */
export const standardUncertaintyOf = (tolerance: number): number => tolerance / Math.sqrt(3);
