// NTC thermistors by the Steinhart-Hart equation and by the beta equation, both ways, and the coefficients from three
// points of a table. Source: Steinhart & Hart, Deep-Sea Research 15:497, 1968 (from memory); the beta equation is its
// two-term form. Coefficients are judged over the range in use: there, resistance must fall as temperature rises. A
// negative third coefficient is common and is right as long as the curve turns outside that range.

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

const isNumber = (value: number): boolean => typeof value === 'number' && Number.isFinite(value);
const isResistance = (ohms: number): boolean => isNumber(ohms) && ohms > 0;
const isMeasurable = (celsius: number): boolean =>
  isNumber(celsius) && celsius >= COLDEST && celsius <= HOTTEST;
const isBeta = ({ r25, beta }: Beta): boolean => isResistance(r25) && isNumber(beta) && beta > 0;

const outsideRange = (value: number): Result<never> =>
  failure('outside-probe-range', { least_celsius: COLDEST, most_celsius: HOTTEST }, value);

const inRange = (celsius: number, ohms: number): Result<Celsius> =>
  isMeasurable(celsius) ? success(celsius as Celsius) : outsideRange(ohms);

const notAResistance = (ohms: number): Result<never> => failure('not-a-resistance', {}, ohms);

/** Where a probe of a laboratory is used: from ice water to above the first step of the fire ladder, °C. */
const IN_USE = { coldest: 0, hottest: 130 } as const;
/** ln R of 1 Ω and of 100 MΩ: no thermistor of the trade lies outside. */
const LEAST_LOG = 0;
const MOST_LOG = Math.log(1e8);

interface LogSpan {
  readonly least: number;
  readonly most: number;
}

const inverseKelvin = ({ a, b, c }: SteinhartHart, log: number): number => a + b * log + c * log ** 3;

/** The span of ln R over which temperature falls as resistance rises; null where there is none. */
function fallingSpan({ b, c }: SteinhartHart): LogSpan | null {
  const turn = Math.sqrt(Math.abs(b / (3 * c)));
  if (b > 0) return { least: LEAST_LOG, most: c < 0 ? Math.min(MOST_LOG, turn) : MOST_LOG };
  return c > 0 && turn < MOST_LOG ? { least: turn, most: MOST_LOG } : null;
}

/** The span in which the coefficients hold, or null when they do not describe a thermistor over the range in use. */
function usableSpan(coefficients: SteinhartHart): LogSpan | null {
  const { a, b, c } = coefficients;
  if (![a, b, c].every(Number.isFinite)) return null;
  const span = fallingSpan(coefficients);
  if (span === null) return null;
  const reaches =
    inverseKelvin(coefficients, span.least) <= 1 / (IN_USE.hottest - ABSOLUTE_ZERO_CELSIUS) &&
    inverseKelvin(coefficients, span.most) >= 1 / (IN_USE.coldest - ABSOLUTE_ZERO_CELSIUS);
  return reaches ? span : null;
}

const badCoefficients = ({ a, b, c }: SteinhartHart): Result<never> =>
  failure('bad-thermistor-coefficients', {}, `${a}, ${b}, ${c}`);

export function thermistorCelsius(coefficients: SteinhartHart, ohms: number): Result<Celsius> {
  const span = usableSpan(coefficients);
  if (span === null) return badCoefficients(coefficients);
  if (!isResistance(ohms)) return notAResistance(ohms);
  const log = Math.log(ohms);
  if (log < span.least || log > span.most) return outsideRange(ohms);
  return inRange(1 / inverseKelvin(coefficients, log) + ABSOLUTE_ZERO_CELSIUS, ohms);
}

/** The root within the falling span, by halving it until its ends are neighbouring numbers. */
export function thermistorOhms(coefficients: SteinhartHart, celsius: Celsius): Result<number> {
  const span = usableSpan(coefficients);
  if (span === null) return badCoefficients(coefficients);
  if (!isMeasurable(celsius)) return outsideRange(celsius);
  const wanted = 1 / (celsius - ABSOLUTE_ZERO_CELSIUS);
  let { least, most } = span;
  if (inverseKelvin(coefficients, least) > wanted || inverseKelvin(coefficients, most) < wanted)
    return outsideRange(celsius);
  for (;;) {
    const middle = (least + most) / 2;
    if (middle <= least || middle >= most) return success(Math.exp(middle));
    if (inverseKelvin(coefficients, middle) < wanted) least = middle;
    else most = middle;
  }
}

export function betaCelsius({ r25, beta }: Beta, ohms: number): Result<Celsius> {
  if (!isResistance(ohms)) return notAResistance(ohms);
  if (!isBeta({ r25, beta })) return failure('bad-thermistor-coefficients', {}, `${r25}, ${beta}`);
  return inRange(1 / (1 / ROOM_KELVIN + Math.log(ohms / r25) / beta) + ABSOLUTE_ZERO_CELSIUS, ohms);
}

export function betaOhms({ r25, beta }: Beta, celsius: Celsius): Result<number> {
  if (!isBeta({ r25, beta })) return failure('bad-thermistor-coefficients', {}, `${r25}, ${beta}`);
  if (!isMeasurable(celsius)) return outsideRange(celsius);
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
  if (points.length !== 3) return failure('bad-thermistor-points', {}, points.length);
  for (const { ohms, celsius } of points) {
    if (!isResistance(ohms)) return notAResistance(ohms);
    if (!isNumber(celsius) || celsius <= ABSOLUTE_ZERO_CELSIUS)
      return failure('not-a-temperature', {}, celsius);
  }
  const sorted = [...points].sort((first, second) => first.celsius - second.celsius);
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
  return usableSpan({ a, b, c }) === null ? badCoefficients({ a, b, c }) : success({ a, b, c });
}
