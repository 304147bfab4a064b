// Platinum resistance thermometers Pt100 and Pt1000, resistance to temperature and back.
// Callendar-Van Dusen with the coefficients of IEC 60751:2022 (the same since 1995); it refuses the superseded ones
// of the years before ITS-90, which still circulate and are wrong by up to 0.04 K in this range.

import { isWithin, rowOf } from '../reading-guard.ts';
import { failure, type Result, success } from '../result.ts';
import type { Celsius } from '../units.ts';

export interface PlatinumCoefficients {
  /** 1/°C, 1/°C², 1/°C⁴. */
  readonly a: number;
  readonly b: number;
  readonly c: number;
}

/** IEC 60751:2022, as several public sources quote it alike. */
export const PLATINUM: PlatinumCoefficients = { a: 3.9083e-3, b: -5.775e-7, c: -4.183e-12 };

export type PlatinumKind = 'pt100' | 'pt1000';
/** Ohms at 0 °C. */
const NOMINAL: Readonly<Record<PlatinumKind, number>> = { pt100: 100, pt1000: 1000 };

/** Range of validity of the standard's curve, °C. */
const LEAST = -200;
const MOST = 850;

/** Tables are printed to 0.01 Ω of a Pt100: their own last row must not count as outside. */
const ROUNDING = 5e-5;

const ratio = (t: number): number => {
  const { a, b, c } = PLATINUM;
  return 1 + a * t + b * t * t + (t < 0 ? c * (t - 100) * t ** 3 : 0);
};

const slope = (t: number): number => {
  const { a, b, c } = PLATINUM;
  return a + 2 * b * t + (t < 0 ? c * (4 * t ** 3 - 300 * t * t) : 0);
};

/** Ohms of an ideal thermometer; -200 to 850 °C. */
export function platinumOhms(kind: PlatinumKind, celsius: Celsius): Result<number> {
  const nominal = rowOf(NOMINAL, kind, 'platinum');
  if (!isWithin(celsius, LEAST, MOST))
    return failure('outside-probe-range', { least_celsius: LEAST, most_celsius: MOST }, celsius);
  return success(nominal * ratio(celsius));
}

/**
 * Temperature of a resistance; `leadOhms` is what the wires add in two-wire connection.
 * The inverse is exact to 1e-9 K; what the element itself may be off by is its tolerance class.
 */
export function platinumCelsius(kind: PlatinumKind, ohms: number, leadOhms = 0): Result<Celsius> {
  const r = (ohms - leadOhms) / rowOf(NOMINAL, kind, 'platinum');
  if (
    !Number.isFinite(ohms) ||
    !isWithin(leadOhms, 0) ||
    r < ratio(LEAST) - ROUNDING ||
    r > ratio(MOST) + ROUNDING
  )
    return failure('outside-probe-range', { least_celsius: LEAST, most_celsius: MOST }, ohms);
  const { a, b } = PLATINUM;
  let t = (-a + Math.sqrt(a * a - 4 * b * (1 - r))) / (2 * b);
  if (t < 0) for (let pass = 0; pass < 6; pass++) t -= (ratio(t) - r) / slope(t);
  return success(t as Celsius);
}

const agrees = (first: number, second: number): boolean =>
  Math.abs(first - second) <= 5e-4 * Math.abs(second);
const isExactly = (first: number, second: number): boolean =>
  Math.abs(first - second) <= 1e-6 * Math.abs(second);

/** Checks coefficients before they are used: only those of the standard in force pass. */
export function checkPlatinum(wanted: PlatinumCoefficients): Result<PlatinumCoefficients> {
  const { a, b, c } = PLATINUM;
  if (isExactly(wanted.a, a) && isExactly(wanted.b, b) && isExactly(wanted.c, c)) return success(PLATINUM);
  const text = `A ${wanted.a}, B ${wanted.b}, C ${wanted.c}`;
  // The pre-1995 set: A 3.90802e-3, B -5.802e-7, C -4.2735e-12 (temperatures of IPTS-68).
  if (agrees(wanted.a, 3.90802e-3) && Math.abs(wanted.b + 5.802e-7) < 2e-9)
    return failure('superseded-platinum-curve', {}, text);
  return failure('unknown-platinum-curve', {}, text);
}
