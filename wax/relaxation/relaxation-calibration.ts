// Calibration of the relaxation model with the lab's own bent-stick test, by nonlinear least squares:
// opening(t) = A (1 - exp(-(ξ/τ)^β)), ξ = ∫ exp(E/R (1/Tref - 1/T)) dt. Fitted are ln A, ln τ, β and E by the
// Levenberg-Marquardt library from several starting points; errors from σ² (JᵀJ)⁻¹ at the minimum with Student's t.
// Source of model: Kohlrausch 1854, Williams & Watts 1970 (from memory); of errors: Bates & Watts 1988, ch. 2 (from memory).

import { levenbergMarquardt } from 'ml-levenberg-marquardt';
import { inverse, Matrix } from 'ml-matrix';
import { type BentStickTest, checkBentStickTest } from './bent-stick-test.ts';
import {
  type CalibrationEvidence,
  type CalibrationVerdict,
  calibrationVerdict,
  type FittedValue,
} from './calibration-verdict.ts';
import { coverageFactor95 } from '../numbers/coverage-factor.ts';
import { gradientOfOpening, type OpeningRow, openingOf, openingRows, referenceOf } from './opening-model.ts';
import { isTemperature } from '../reading-guard.ts';
import { failure, type Result, success } from '../result.ts';
import { type Celsius, SECONDS_PER_HOUR } from '../units.ts';

/** Plain JSON. */
export interface RelaxationCalibration
  extends Omit<CalibrationEvidence, 'test' | 'atEdge' | 'releasedShare'> {
  /** Temperature at which tau holds: the middle of the test. */
  readonly reference: Celsius;
  readonly degreesOfFreedom: number;
  readonly verdict: CalibrationVerdict;
  /** Of ln A, ln τ (hours), β, E (in 100 kJ/mol): for bands of a plot. */
  readonly parameters: readonly number[];
  readonly covariance: readonly (readonly number[])[];
}

/** ln mm, ln h, 1, 100 kJ/mol: what a wax can possibly have, widely taken; a fit that ends here is none. */
const LEAST = [-7, -14, 0.05, 0];
const MOST = [7, 18, 1, 5];
const ITERATIONS = 80;

export function calibrateRelaxation(test: BentStickTest): Result<RelaxationCalibration> {
  const checked = checkBentStickTest(test);
  if (!checked.ok) return checked;
  const reference = referenceOf(test.sticks);
  const rows = openingRows(test.sticks);
  const best = startingPoints(rows)
    .map((start) => fitFrom(start, rows, reference))
    .reduce((first, second) => (second.squares < first.squares ? second : first), {
      squares: Infinity,
      parameters: [],
    });
  const information = informationOf(best.parameters, rows, reference);
  if (best.parameters.length === 0 || information === null)
    return failure('fit-failed', {}, `${rows.length} readings`);
  return success(describeFit(best, information, rows, reference, test));
}

interface Fit {
  readonly squares: number;
  readonly parameters: readonly number[];
}

function startingPoints(rows: readonly OpeningRow[]): readonly number[][] {
  const most = Math.max(...rows.map(({ millimetres }) => Math.abs(millimetres)), 1e-3);
  const middle = Math.log(rows.map(({ hours }) => hours).sort((a, b) => a - b)[rows.length >> 1] ?? 1);
  return [
    [Math.log(1.1 * most), middle, 0.6, 1],
    [Math.log(1.5 * most), middle + 1, 0.4, 0.6],
    [Math.log(2.5 * most), middle + 3, 0.5, 1.5],
    [Math.log(1.02 * most), middle - 1.5, 0.9, 0.9],
  ];
}

function fitFrom(initialValues: number[], rows: readonly OpeningRow[], reference: Celsius): Fit {
  const rowAt = (x: number): OpeningRow =>
    rows[x] ?? { stick: 0, hours: 0, millimetres: 0, temperatures: [] };
  const { parameterValues } = levenbergMarquardt(
    { x: rows.map((_, i) => i), y: rows.map(({ millimetres }) => millimetres) },
    (parameters) => (x) => openingOf(parameters, rowAt(x), reference),
    {
      initialValues,
      minValues: LEAST,
      maxValues: MOST,
      jacobianFunction: (parameters) => (x) => [...gradientOfOpening(parameters, rowAt(x), reference)],
      maxIterations: ITERATIONS,
      errorTolerance: 1e-14,
      damping: 1e-2,
    },
  );
  const squares = rows.reduce(
    (sum, row) => sum + (row.millimetres - openingOf(parameterValues, row, reference)) ** 2,
    0,
  );
  return { squares: Number.isFinite(squares) ? squares : Infinity, parameters: parameterValues };
}

/** (JᵀJ)⁻¹, or null where the readings leave a direction of the parameters entirely free. */
function informationOf(
  parameters: readonly number[],
  rows: readonly OpeningRow[],
  reference: Celsius,
): Matrix | null {
  if (parameters.length === 0) return null;
  const jacobian = new Matrix(rows.map((row) => [...gradientOfOpening(parameters, row, reference)]));
  const normal = jacobian.transpose().mmul(jacobian);
  // A direction without any information gets a little, so that its error comes out huge instead of undefined.
  for (let i = 0; i < parameters.length; i++) normal.set(i, i, normal.get(i, i) * (1 + 1e-10) + 1e-12);
  const inverted = inverse(normal);
  return inverted.to1DArray().every(Number.isFinite) ? inverted : null;
}

function describeFit(
  { squares, parameters }: Fit,
  information: Matrix,
  rows: readonly OpeningRow[],
  reference: Celsius,
  test: BentStickTest,
): RelaxationCalibration {
  const degreesOfFreedom = rows.length - parameters.length;
  const scatter = Math.sqrt(squares / degreesOfFreedom);
  const sigma = Math.max(scatter, test.readingError ?? 0);
  const covariance = Matrix.mul(information, sigma * sigma).to2DArray();
  const k = coverageFactor95(degreesOfFreedom);
  const error = (i: number): number => Math.sqrt(Math.max(0, covariance[i]?.[i] ?? 0));
  const linear = (i: number, unit: number): FittedValue => {
    const value = (parameters[i] ?? 0) * unit;
    const standardError = error(i) * unit;
    return { value, standardError, low: value - k * standardError, high: value + k * standardError };
  };
  const logarithmic = (i: number, unit: number): FittedValue => {
    const log = parameters[i] ?? 0;
    const value = Math.exp(log) * unit;
    const within = (sign: number): number =>
      Math.min(Number.MAX_VALUE, unit * Math.exp(log + sign * k * error(i)));
    return { value, standardError: value * error(i), low: within(-1), high: within(1) };
  };
  const fitted = {
    reference,
    amplitude: logarithmic(0, 1),
    tau: logarithmic(1, SECONDS_PER_HOUR),
    beta: linear(2, 1),
    activationEnergy: linear(3, 1e5),
    scatter,
    degreesOfFreedom,
    residuals: rows.map((row) => ({
      stick: row.stick,
      hours: row.hours,
      measured: row.millimetres,
      fitted: openingOf(parameters, row, reference),
    })),
    parameters,
    covariance,
  };
  const furthest = Math.max(...rows.map((row) => openingOf(parameters, row, reference)));
  const atEdge = parameters.some(
    (value, i) => value <= (LEAST[i] ?? 0) + 1e-6 || (i !== 2 && value >= (MOST[i] ?? 0) - 1e-6),
  );
  return {
    ...fitted,
    verdict: calibrationVerdict({
      ...fitted,
      test,
      atEdge,
      releasedShare: furthest / fitted.amplitude.value,
    }),
  };
}

export interface OpeningForecast {
  readonly hours: number;
  readonly millimetres: number;
  /** 95 % band of the curve (not of a single reading). */
  readonly low: number;
  readonly high: number;
}

/**
 * The fitted curve at one temperature with its band, for a plot beside the readings.
 * @throws RangeError for what is no temperature, and for hours below 0.
 */
export function calibrationCurve(
  { parameters, covariance, reference, degreesOfFreedom }: RelaxationCalibration,
  celsius: Celsius,
  hours: readonly number[],
): readonly OpeningForecast[] {
  if (!isTemperature(celsius) || !hours.every((hour) => hour >= 0 && hour < Infinity))
    throw new RangeError(`calibrationCurve: ${celsius} °C, hours ${hours.join(', ').slice(0, 100)}`);
  const k = coverageFactor95(degreesOfFreedom);
  return hours.map((hour) => {
    const row: OpeningRow = { stick: 0, hours: hour, millimetres: 0, temperatures: [{ hours: 0, celsius }] };
    const gradient = gradientOfOpening(parameters, row, reference);
    let variance = 0;
    for (const [i, line] of covariance.entries())
      for (const [j, value] of line.entries()) variance += (gradient[i] ?? 0) * value * (gradient[j] ?? 0);
    const millimetres = openingOf(parameters, row, reference);
    const half = k * Math.sqrt(Math.max(0, variance));
    return { hours: hour, millimetres, low: millimetres - half, high: millimetres + half };
  });
}

/**
 * The fitted values by the names under which a wax class is overridden; refused, with the doubts, when the test does
 * not fix them. The bands are as wide as the fit says they are; the strain frozen in by a technique is another matter
 * and stays as it was.
 */
export const calibrationOverrides = (
  calibration: RelaxationCalibration,
): Result<Readonly<Record<string, number>>> => {
  const { verdict, reference, tau, beta, activationEnergy } = calibration;
  if (verdict.kind === 'not-fixed')
    return failure('calibration-not-fixed', { doubts: verdict.doubts.join(', ') });
  return success({
    'relaxation.reference': reference,
    'relaxation.tau': tau.value,
    'relaxation.beta': beta.value,
    'relaxation.activationEnergy': activationEnergy.value,
    'relaxation.spread.tauFactor': tau.high / tau.value,
    'relaxation.spread.beta': beta.high - beta.value,
  });
};
