// How much faster something goes at one temperature than at another, after Arrhenius:
// a(T) = exp(E/R (1/Tref - 1/T)), and its mean along a straight line of temperature over time.
// Assumes one activation energy; a wax that melts or chars in between follows another law.

import { ABSOLUTE_ZERO_CELSIUS, type Celsius, GAS_CONSTANT, type JoulesPerMole } from './units.ts';

export interface ArrheniusLaw {
  /** Positive. */
  readonly activationEnergy: JoulesPerMole;
  /** Where the factor is 1. */
  readonly reference: Celsius;
}

/** Rate at `celsius` over the rate at the reference. */
export const arrheniusFactor = (law: ArrheniusLaw, celsius: Celsius): number =>
  Math.exp(
    (law.activationEnergy / GAS_CONSTANT) *
      (1 / (law.reference - ABSOLUTE_ZERO_CELSIUS) - 1 / (celsius - ABSOLUTE_ZERO_CELSIUS)),
  );

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

/** Half the change of ln a(T) along the ramp, and half the ramp over its middle, up to which the series is used. */
const SERIES_RATE = 0.05;
const SERIES_TEMPERATURE = 0.01;

/**
 * Mean of `arrheniusFactor` along a ramp that is linear in time; the same in both directions.
 *
 * A short ramp (to about 1 °C at 70 °C) by the power series about its middle, with one exponential; its first
 * omitted term is below rate^6 / 5040, so the relative error is below 1e-11. A longer ramp in closed form:
 * the integral of exp(-B/T) is T exp(-B/T) (1 - x e^x E1(x)) with x = B/T.
 */
export const meanArrheniusFactor = (law: ArrheniusLaw, from: Celsius, to: Celsius): number => {
  const slope = law.activationEnergy / GAS_CONSTANT;
  const atReference = slope / (law.reference - ABSOLUTE_ZERO_CELSIUS);
  const low = (from < to ? from : to) - ABSOLUTE_ZERO_CELSIUS;
  const high = (from < to ? to : from) - ABSOLUTE_ZERO_CELSIUS;
  const middle = (low + high) / 2;
  const r = (high - low) / 2 / middle;
  const a = (slope / middle) * r;
  if (a <= SERIES_RATE && r <= SERIES_TEMPERATURE) {
    // exp(a s - a r s² + a r² s³ - a r³ s⁴ ...) averaged over s from -1 to 1: even powers only.
    const second = (a * a) / 2 - a * r;
    const fourth = (a * a * a * a) / 24 - (a * a * a * r) / 2 + 1.5 * a * a * r * r - a * r * r * r;
    return Math.exp(atReference - slope / middle) * (1 + second / 3 + fourth / 5);
  }
  const antiderivative = (kelvin: number) =>
    kelvin * Math.exp(atReference - slope / kelvin) * exponentialIntegralRest(slope / kelvin);
  return (antiderivative(high) - (low > 0 ? antiderivative(low) : 0)) / (high - low);
};
