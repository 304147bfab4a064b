// How much faster something goes at one temperature than at a reference:
// factor(T) = exp(slope (1/(Tref - zero) - 1/(T - zero))), and its mean along a straight line of temperature.
// With zero at 0 K this is Arrhenius, as wax is taken to age and to relax.

import { isWithin } from '../reading-guard.ts';
import { ABSOLUTE_ZERO_CELSIUS, type Celsius, GAS_CONSTANT, type JoulesPerMole } from '../units.ts';

export interface ThermalRate {
  /** K, positive. */
  readonly slope: number;
  /** Temperature at and below which nothing goes on, °C. */
  readonly zero: number;
  /** Where the factor is 1, °C; above `zero`. */
  readonly reference: number;
}

/** Arrhenius: 1/aT = exp(E/R (1/Tref - 1/T)); the energy is positive. */
export const arrheniusRate = (activationEnergy: JoulesPerMole, reference: Celsius): ThermalRate => ({
  slope: activationEnergy / GAS_CONSTANT,
  zero: ABSOLUTE_ZERO_CELSIUS,
  reference,
});

/**
 * The factor at one temperature, °C.
 * @throws RangeError for what is no number
 */
export const thermalFactor = ({ slope, zero, reference }: ThermalRate, celsius: number): number => {
  if (!isWithin(celsius, -Infinity)) throw new RangeError(`thermalFactor: ${celsius} °C`);
  return celsius > zero ? Math.exp(slope / (reference - zero) - slope / (celsius - zero)) : 0;
};

/**
 * 1 - x e^x E1(x) for x > 0, E1 the exponential integral, by the even form of its continued fraction from the
 * 80th term back (Abramowitz and Stegun 5.1.22); below x = 1 by the power series (5.1.11).
 */
const exponentialIntegralRest = (x: number): number => {
  if (x < 1) {
    let term = 1;
    let sum = -0.5772156649015329 - Math.log(x);
    for (let n = 1; n <= 20; n += 1) {
      term *= -x / n;
      sum -= term / n;
    }
    return 1 - x * Math.exp(x) * sum;
  }
  let fraction = 0;
  for (let n = 80; n >= 1; n -= 1) fraction = (n * n) / (x + 2 * n + 1 - fraction);
  return (1 - fraction) / (x + 1 - fraction);
};

/** Half the change of the logarithm along the ramp, and half the ramp over its middle: the series is used below. */
const SERIES_RATE = 0.05;
const SERIES_TEMPERATURE = 0.01;

/** The integral in closed form, for any ramp; apart, so that the short ramp stays small enough to be inlined. */
const meanAlongLongRamp = (slope: number, atReference: number, low: number, high: number): number => {
  const antiderivative = (above: number) =>
    above > 0 ? above * Math.exp(atReference - slope / above) * exponentialIntegralRest(slope / above) : 0;
  return high > 0 ? (antiderivative(high) - antiderivative(low)) / (high - low) : 0;
};

/**
 * Mean of `thermalFactor` along a ramp that is linear in time; the same in both directions.
 *
 * A short ramp (to about 1 °C at 70 °C and 100 kJ/mol) by the power series about its middle, with one
 * exponential; its first omitted term is below rate^6 / 5040, so the relative error is below 1e-11. A longer
 * ramp in closed form: the integral of exp(-B/T) is T exp(-B/T) (1 - x e^x E1(x)) with x = B/T.
 * @throws RangeError for an end that is no number
 */
export const meanThermalFactor = (rate: ThermalRate, from: number, to: number): number => {
  if (typeof from !== 'number' || typeof to !== 'number' || Number.isNaN(from + to))
    throw new RangeError(`meanThermalFactor: ${from} to ${to} °C`);
  const { slope, zero } = rate;
  const atReference = slope / (rate.reference - zero);
  const middle = (from + to) / 2 - zero;
  const half = Math.abs(to - from) / 2;
  const r = half / middle;
  const a = (slope / middle) * r;
  // False below zero too, so that the closed form is used there.
  if (middle > 0 && a <= SERIES_RATE && r <= SERIES_TEMPERATURE) {
    // exp(a s - a r s² + a r² s³ - a r³ s⁴ ...) averaged over s from -1 to 1: even powers only.
    const square = a * a;
    const product = a * r;
    const second = square / 2 - product;
    const fourth =
      (square * square) / 24 - (square * product) / 2 + 1.5 * product * product - product * r * r;
    return Math.exp(atReference - slope / middle) * (1 + second / 3 + fourth / 5);
  }
  return meanAlongLongRamp(slope, atReference, middle - half, middle + half);
};
