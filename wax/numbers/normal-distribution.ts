// The normal distribution and its inverse, to 1e-12: what a guard band and a chance are computed with.

import { isWithin } from '../reading-guard.ts';

/**
 * Φ(x) by the series and continued fraction of erfc (Abramowitz & Stegun 7.1.5, 7.1.14), to 1e-12.
 * @throws RangeError for what is no number
 */
export function normalProbability(x: number): number {
  if (!isWithin(x, -Infinity, Infinity)) throw new RangeError(`normalProbability: ${x}`);
  const z = Math.abs(x) / Math.SQRT2;
  const tail = z < 2.5 ? (1 - erfSeries(z)) / 2 : erfcFraction(z) / 2;
  return x > 0 ? 1 - tail : tail;
}

function erfSeries(z: number): number {
  let [term, sum] = [z, z];
  for (let n = 1; Math.abs(term) > 1e-17 && n < 200; n++) {
    term *= (-z * z) / n;
    sum += term / (2 * n + 1);
  }
  return (2 / Math.sqrt(Math.PI)) * sum;
}

function erfcFraction(z: number): number {
  let fraction = z;
  for (let n = 60; n >= 1; n--) fraction = z + n / 2 / fraction;
  return Math.exp(-z * z) / Math.sqrt(Math.PI) / fraction;
}

/**
 * Inverse of Φ by bisection; p above 0 and below 1.
 * @throws RangeError for any other p
 */
export function normalQuantile(p: number): number {
  if (!isWithin(p, Number.MIN_VALUE) || p >= 1) throw new RangeError(`normalQuantile: ${p}`);
  let [low, high] = [-40, 40];
  for (let halving = 0; halving < 100; halving++) {
    const middle = (low + high) / 2;
    if (normalProbability(middle) < p) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
