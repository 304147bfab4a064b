// Transient conduction in slab, cylinder and sphere with convection at the surface, by the full Fourier series: as many
// terms as the instant needs, early times included. θ = (T - T∞)/(T0 - T∞) at a place inside or averaged over the body.
// Source: Incropera & DeWitt ch. 5.5-5.6 (formulas as public worked examples quote them); Carslaw & Jaeger, Conduction of
// Heat in Solids, ch. III, VII, IX (from memory). Constant properties, no melting, one constant surrounding temperature.

import bessel from 'bessel';
import { isWithin, rowOf } from '../reading-guard.ts';

export type Geometry = 'slab' | 'cylinder' | 'sphere';

const j0 = (x: number): number => bessel.besselj(x, 0);
const j1 = (x: number): number => bessel.besselj(x, 1);

interface Mode {
  /** The boundary condition without its poles: it changes sign once within the n-th bracket. */
  readonly condition: (z: number, biot: number) => number;
  readonly bracket: (n: number) => readonly [low: number, high: number];
  readonly coefficient: (z: number) => number;
  /** Shape of the mode at a fraction of the half-thickness or radius from the middle. */
  readonly shape: (z: number, place: number) => number;
  /** Mean of the mode over the body. */
  readonly mean: (z: number) => number;
}

/** McMahon's expansion: n-th positive zero of J0 (Abramowitz & Stegun 9.5.12), to 1e-3 for n = 1, better beyond. */
const zeroOfJ0 = (n: number): number => {
  const b = (n - 0.25) * Math.PI;
  return b + 1 / (8 * b) - 124 / (3 * (8 * b) ** 3);
};
const zeroOfJ1 = (n: number): number => {
  if (n === 0) return 0;
  const b = (n + 0.25) * Math.PI;
  return b - 3 / (8 * b) + 36 / (3 * (8 * b) ** 3);
};

const MODES: Readonly<Record<Geometry, Mode>> = {
  slab: {
    condition: (z, biot) => z * Math.sin(z) - biot * Math.cos(z),
    bracket: (n) => [(n - 1) * Math.PI, (n - 0.5) * Math.PI],
    coefficient: (z) => (4 * Math.sin(z)) / (2 * z + Math.sin(2 * z)),
    shape: (z, place) => Math.cos(z * place),
    mean: (z) => Math.sin(z) / z,
  },
  cylinder: {
    condition: (z, biot) => z * j1(z) - biot * j0(z),
    bracket: (n) => [n === 1 ? 1e-9 : zeroOfJ1(n - 1) - 2e-3, zeroOfJ0(n) + 2e-3],
    coefficient: (z) => (2 * j1(z)) / (z * (j0(z) ** 2 + j1(z) ** 2)),
    shape: (z, place) => j0(z * place),
    mean: (z) => (2 * j1(z)) / z,
  },
  sphere: {
    condition: (z, biot) => (1 - biot) * Math.sin(z) - z * Math.cos(z),
    bracket: (n) => [Math.max(1e-9, (n - 1) * Math.PI), n * Math.PI],
    coefficient: (z) => (4 * (Math.sin(z) - z * Math.cos(z))) / (2 * z - Math.sin(2 * z)),
    shape: (z, place) => (place === 0 ? 1 : Math.sin(z * place) / (z * place)),
    mean: (z) => (3 * (Math.sin(z) - z * Math.cos(z))) / z ** 3,
  },
};

export interface Eigenvalue {
  /** Root ζn and coefficient Cn of the mode. */
  readonly zeta: number;
  readonly coefficient: number;
}

const isBiot = (biot: number): boolean => isWithin(biot, Number.MIN_VALUE);

/**
 * The n-th root, from 1, of the boundary condition (ζ tan ζ = Bi and its like), to 1e-12 for slab and sphere.
 * @throws RangeError for Bi that is not above 0 and finite, and for n that is no whole number from 1
 */
export function conductionEigenvalue(geometry: Geometry, biot: number, n: number): Eigenvalue {
  if (!isBiot(biot) || !Number.isInteger(n) || n < 1)
    throw new RangeError(`conductionEigenvalue: Bi ${biot}, n ${n}`);
  const mode = rowOf(MODES, geometry, 'body');
  let [low, high] = mode.bracket(n);
  const sign = Math.sign(mode.condition(high, biot)) || 1;
  for (let halving = 0; halving < 60; halving++) {
    const middle = (low + high) / 2;
    if (Math.sign(mode.condition(middle, biot)) === sign) high = middle;
    else low = middle;
  }
  const zeta = (low + high) / 2;
  return { zeta, coefficient: mode.coefficient(zeta) };
}

/** exp(-40) is beyond what a double can add. */
const NEGLIGIBLE_EXPONENT = 40;
const MOST_TERMS = 4000;

export type SeriesPlace = number | 'mean';

/**
 * θ from 1 (untouched) to 0 (as the surroundings) at each instant. `place`: 0 core to 1 surface, or the mean of
 * the body. Below Fo = 2.5e-7 (microseconds in a stick) the body counts as untouched.
 * @throws RangeError for Bi that is not above 0 and finite, for Fo below 0, and for a place outside of the body.
 * Absolute error: 1e-9 in slab and sphere; below 1e-5 in the cylinder, by the Bessel functions.
 */
export function conductionSeries(
  geometry: Geometry,
  biot: number,
  place: SeriesPlace = 0,
): (fourier: number) => number {
  if (!isBiot(biot)) throw new RangeError(`conductionSeries: Bi ${biot}`);
  if (place !== 'mean' && !isWithin(place, 0, 1)) throw new RangeError(`conductionSeries: place ${place}`);
  const mode = rowOf(MODES, geometry, 'body');
  const terms: { squared: number; weight: number }[] = [];
  const term = (index: number): { squared: number; weight: number } => {
    const computed = terms[index];
    if (computed !== undefined) return computed;
    const { zeta, coefficient } = conductionEigenvalue(geometry, biot, index + 1);
    const shape = place === 'mean' ? mode.mean(zeta) : mode.shape(zeta, place);
    const added = { squared: zeta * zeta, weight: coefficient * shape };
    terms.push(added);
    return added;
  };
  return (fourier) => {
    if (!isWithin(fourier, 0, Number.POSITIVE_INFINITY))
      throw new RangeError(`conductionSeries: Fo ${fourier}`);
    if (fourier <= NEGLIGIBLE_EXPONENT / (MOST_TERMS * Math.PI) ** 2) return 1;
    let sum = 0;
    for (let index = 0; index < MOST_TERMS; index++) {
      const { squared, weight } = term(index);
      const exponent = squared * fourier;
      if (exponent > NEGLIGIBLE_EXPONENT) break;
      sum += weight * Math.exp(-exponent);
    }
    return Math.min(1, Math.max(0, sum));
  };
}
