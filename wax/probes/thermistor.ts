// NTC thermistors by the Steinhart-Hart equation and by the beta equation, both ways, and the coefficients from three
// points of a table. Source: Steinhart & Hart, Deep-Sea Research 15:497, 1968 (from memory); the beta equation is its
// two-term form. It refuses coefficients under which resistance would not fall with temperature.

import { Matrix, solve } from 'ml-matrix';
import { failure, type Result, success } from '../result.ts';
import { ABSOLUTE_ZERO_CELSIUS, type Celsius } from '../units.ts';

/** 1/T = a + b ln R + c (ln R)³, T in kelvins, R in ohms. */
export interface SteinhartHart {
  readonly a: number;
  readonly b: number;
  readonly c: number;
}

/** R = r25 exp(beta (1/T - 1/298.15)). */
export interface Beta {
  /** Ohms at 25 °C. */
  readonly r25: number;
  /** Kelvins. */
  readonly beta: number;
}

const COLDEST = -100;
const HOTTEST = 300;
const ROOM_KELVIN = 298.15;

const inRange = (celsius: number, ohms: number): Result<Celsius> =>
  celsius >= COLDEST && celsius <= HOTTEST
    ? success(celsius as Celsius)
    : failure('outside-probe-range', { least_celsius: COLDEST, most_celsius: HOTTEST }, ohms);

const notAResistance = (ohms: number): Result<never> => failure('not-a-resistance', {}, ohms);

const falls = ({ a, b, c }: SteinhartHart): boolean =>
  Number.isFinite(a) && Number.isFinite(b) && Number.isFinite(c) && b > 0 && c >= 0;

const badCoefficients = ({ a, b, c }: SteinhartHart): Result<never> =>
  failure('bad-thermistor-coefficients', {}, `${a}, ${b}, ${c}`);

export function thermistorCelsius(coefficients: SteinhartHart, ohms: number): Result<Celsius> {
  if (!falls(coefficients)) return badCoefficients(coefficients);
  if (!(ohms > 0) || !Number.isFinite(ohms)) return notAResistance(ohms);
  const log = Math.log(ohms);
  return inRange(
    1 / (coefficients.a + coefficients.b * log + coefficients.c * log ** 3) + ABSOLUTE_ZERO_CELSIUS,
    ohms,
  );
}

/** The real root of the cubic in ln R, by Cardano's formula where c > 0. */
export function thermistorOhms(coefficients: SteinhartHart, celsius: Celsius): Result<number> {
  if (!falls(coefficients)) return badCoefficients(coefficients);
  if (!(celsius >= COLDEST && celsius <= HOTTEST))
    return failure('outside-probe-range', { least_celsius: COLDEST, most_celsius: HOTTEST }, celsius);
  const { a, b, c } = coefficients;
  const rest = a - 1 / (celsius - ABSOLUTE_ZERO_CELSIUS);
  let log = -rest / b;
  if (c > 0) {
    const half = rest / (2 * c);
    const root = Math.sqrt((b / (3 * c)) ** 3 + half * half);
    log = Math.cbrt(root - half) - Math.cbrt(root + half);
    // Where c is tiny the two cube roots nearly cancel; two Newton steps give the digits back.
    for (let pass = 0; pass < 2; pass++) log -= (rest + b * log + c * log ** 3) / (b + 3 * c * log * log);
  }
  return success(Math.exp(log));
}

export function betaCelsius({ r25, beta }: Beta, ohms: number): Result<Celsius> {
  if (!(ohms > 0) || !Number.isFinite(ohms)) return notAResistance(ohms);
  if (!(r25 > 0 && beta > 0 && Number.isFinite(r25 + beta)))
    return failure('bad-thermistor-coefficients', {}, `${r25}, ${beta}`);
  return inRange(1 / (1 / ROOM_KELVIN + Math.log(ohms / r25) / beta) + ABSOLUTE_ZERO_CELSIUS, ohms);
}

export function betaOhms({ r25, beta }: Beta, celsius: Celsius): Result<number> {
  if (!(r25 > 0 && beta > 0 && Number.isFinite(r25 + beta)))
    return failure('bad-thermistor-coefficients', {}, `${r25}, ${beta}`);
  if (!(celsius >= COLDEST && celsius <= HOTTEST))
    return failure('outside-probe-range', { least_celsius: COLDEST, most_celsius: HOTTEST }, celsius);
  return success(r25 * Math.exp(beta * (1 / (celsius - ABSOLUTE_ZERO_CELSIUS) - 1 / ROOM_KELVIN)));
}

export interface ThermistorPoint {
  readonly celsius: Celsius;
  readonly ohms: number;
}

/** The coefficients that pass through three points exactly; best spread over the range that matters. */
export function steinhartHartFrom(
  points: readonly [ThermistorPoint, ThermistorPoint, ThermistorPoint],
): Result<SteinhartHart> {
  for (const { ohms, celsius } of points) {
    if (!(ohms > 0) || !Number.isFinite(ohms)) return notAResistance(ohms);
    if (!(celsius > ABSOLUTE_ZERO_CELSIUS) || !Number.isFinite(celsius))
      return failure('not-a-temperature', {}, celsius);
  }
  const sorted = [...points].sort((one, other) => one.celsius - other.celsius);
  const apart = sorted.every((point, i) => {
    const next = sorted[i + 1];
    return next === undefined || (next.celsius - point.celsius >= 1 && next.ohms < point.ohms);
  });
  if (!apart)
    return failure(
      'bad-thermistor-points',
      {},
      points.map(({ celsius, ohms }) => `${celsius} °C ${ohms} Ω`).join(', '),
    );
  const logs = points.map(({ ohms }) => Math.log(ohms));
  const [a = 0, b = 0, c = 0] = solve(
    new Matrix(logs.map((log) => [1, log, log ** 3])),
    Matrix.columnVector(points.map(({ celsius }) => 1 / (celsius - ABSOLUTE_ZERO_CELSIUS))),
  ).to1DArray();
  return falls({ a, b, c }) ? success({ a, b, c }) : badCoefficients({ a, b, c });
}
