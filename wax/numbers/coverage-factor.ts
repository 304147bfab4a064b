// Student's t for a two-sided 95 % interval, by degrees of freedom: what a standard error is multiplied with.
// Source: ISO/IEC Guide 98-3 (GUM), annex G, table G.2, column 95 % (from memory; agrees with computed quantiles).

import { isWithin } from '../reading-guard.ts';

const TABLE: readonly (readonly [degreesOfFreedom: number, t: number])[] = [
  [1, 12.71],
  [2, 4.3],
  [3, 3.18],
  [4, 2.78],
  [5, 2.57],
  [6, 2.45],
  [7, 2.36],
  [8, 2.31],
  [9, 2.26],
  [10, 2.23],
  [12, 2.18],
  [14, 2.14],
  [16, 2.12],
  [20, 2.09],
  [30, 2.04],
  [50, 2.01],
  [100, 1.984],
];
const NORMAL = 1.96;

/** Factor k for 95 %; between two rows the larger one is taken, so that a band is never too narrow; infinite below 1. */
export function coverageFactor95(degreesOfFreedom: number): number {
  if (!isWithin(degreesOfFreedom, 1, Infinity)) return Infinity;
  let factor = Infinity;
  for (const [rows, t] of TABLE) {
    if (rows > degreesOfFreedom) return factor;
    factor = t;
  }
  return degreesOfFreedom > 1000 ? NORMAL : factor;
}
