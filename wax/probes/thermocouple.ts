// Thermocouples of types K and T, voltage to temperature and back, with the cold junction.
// Source: NIST ITS-90 Thermocouple Database, NIST Monograph 175 (1993), also IEC 60584-1; coefficients as many public sources quote them alike. The printed
// inverse polynomials are off by up to 0.05 K, so the direct function is inverted by Newton's method instead.

import { isWithin, rowOf } from '../reading-guard.ts';
import { failure, type Result, success } from '../result.ts';
import type { Celsius } from '../units.ts';

export type ThermocoupleType = 'K' | 'T';

interface Reference {
  readonly least: number;
  readonly most: number;
  /** Millivolts from degrees, lowest power first. */
  readonly below: readonly number[];
  readonly above: readonly number[];
  /** a0 exp(a1 (t - a2)²), type K above 0 °C only. */
  readonly bump: readonly [a0: number, a1: number, a2: number] | null;
}

const REFERENCE: Readonly<Record<ThermocoupleType, Reference>> = {
  K: {
    least: -270,
    most: 1372,
    below: [
      0, 0.39450128025e-1, 0.23622373598e-4, -0.32858906784e-6, -0.49904828777e-8, -0.67509059173e-10,
      -0.57410327428e-12, -0.31088872894e-14, -0.10451609365e-16, -0.19889266878e-19, -0.16322697486e-22,
    ],
    above: [
      -0.17600413686e-1, 0.38921204975e-1, 0.1855877032e-4, -0.99457592874e-7, 0.31840945719e-9,
      -0.56072844889e-12, 0.56075059059e-15, -0.3202072e-18, 0.97151147152e-22, -0.12104721275e-25,
    ],
    bump: [0.1185976, -0.1183432e-3, 126.9686],
  },
  T: {
    least: -270,
    most: 400,
    below: [
      0, 0.38748106364e-1, 0.44194434347e-4, 0.11844323105e-6, 0.20032973554e-7, 0.90138019559e-9,
      0.22651156593e-10, 0.36071154205e-12, 0.38493939883e-14, 0.28213521925e-16, 0.14251594779e-18,
      0.48768662286e-21, 0.1079553927e-23, 0.13945027062e-26, 0.79795153927e-30,
    ],
    above: [
      0, 0.38748106364e-1, 0.3329222788e-4, 0.20618243404e-6, -0.21882256846e-8, 0.10996880928e-10,
      -0.30815758772e-13, 0.4547913529e-16, -0.27512901673e-19,
    ],
    bump: null,
  },
};

const polynomial = (coefficients: readonly number[], t: number): number =>
  coefficients.reduceRight((sum, coefficient) => sum * t + coefficient, 0);

const derivative = (coefficients: readonly number[], t: number): number =>
  coefficients.reduceRight(
    (sum, coefficient, power) => (power === 0 ? sum : sum * t + power * coefficient),
    0,
  );

function voltage({ below, above, bump }: Reference, t: number): number {
  if (t < 0) return polynomial(below, t);
  return polynomial(above, t) + (bump === null ? 0 : bump[0] * Math.exp(bump[1] * (t - bump[2]) ** 2));
}

/** NIST prints its tables to 0.001 mV: their own first and last row must not count as outside. */
const ROUNDING = 5e-4;

/** Seebeck coefficient, mV/K. */
function sensitivity({ below, above, bump }: Reference, t: number): number {
  if (t < 0) return derivative(below, t);
  const hump =
    bump === null ? 0 : 2 * bump[0] * bump[1] * (t - bump[2]) * Math.exp(bump[1] * (t - bump[2]) ** 2);
  return derivative(above, t) + hump;
}

/** Millivolts between a hot junction and a cold one (0 °C if not given). */
export function thermocoupleMillivolts(
  type: ThermocoupleType,
  hot: Celsius,
  coldJunction: Celsius = 0 as Celsius,
): Result<number> {
  const reference = rowOf(REFERENCE, type, 'thermocouple');
  for (const t of [hot, coldJunction])
    if (!isWithin(t, reference.least, reference.most))
      return failure(
        'outside-probe-range',
        { least_celsius: reference.least, most_celsius: reference.most },
        t,
      );
  return success(voltage(reference, hot) - voltage(reference, coldJunction));
}

/**
 * Temperature of the hot junction. The cold junction is made good in volts, never in degrees: adding the two
 * temperatures is wrong by up to a kelvin.
 */
export function thermocoupleCelsius(
  type: ThermocoupleType,
  millivolts: number,
  coldJunction: Celsius,
): Result<Celsius> {
  const reference = rowOf(REFERENCE, type, 'thermocouple');
  const { least, most } = reference;
  if (!isWithin(coldJunction, least, most))
    return failure('outside-probe-range', { least_celsius: least, most_celsius: most }, coldJunction);
  const target = millivolts + voltage(reference, coldJunction);
  if (
    !Number.isFinite(millivolts) ||
    target < voltage(reference, least) - ROUNDING ||
    target > voltage(reference, most) + ROUNDING
  )
    return failure('outside-probe-range', { least_celsius: least, most_celsius: most }, millivolts);
  return success(temperatureAt(reference, target) as Celsius);
}

/** Newton's method inside a bracket: near -270 °C a degree is worth a microvolt, and a bare step would leave the curve. */
function temperatureAt(reference: Reference, target: number): number {
  let [low, high] = [reference.least, reference.most];
  let t = Math.min(high, Math.max(low, target / 0.04));
  for (let pass = 0; pass < 100; pass++) {
    const off = voltage(reference, t) - target;
    if (off > 0) high = t;
    else low = t;
    const step = t - off / sensitivity(reference, t);
    const next = step > low && step < high ? step : (low + high) / 2;
    if (Math.abs(next - t) < 1e-10) return next;
    t = next;
  }
  return t;
}
