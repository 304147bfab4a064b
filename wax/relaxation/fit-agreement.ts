// How predicted and measured errors of patterns agree: bias, spread and the share inside the predicted band; and the
// strain frozen in that the lab's own measurements indicate. A measured gap holds more than storage (the first gap of
// any margin, investment, casting), so a constant part is fitted beside the strain and never put into a prediction.

import { inverse, Matrix } from 'ml-matrix';
import { coverageFactor95 } from '../numbers/coverage-factor.ts';
import { isWithin } from '../reading-guard.ts';
import { failure, type Result, success } from '../result.ts';

export interface FitPair {
  readonly measuredMicrometres: number;
  readonly likelyMicrometres: number;
  readonly lowMicrometres: number;
  readonly highMicrometres: number;
}

/** Fewer pairs prove nothing. Common practice. */
export const LEAST_PAIRS = 20;

export interface FitAgreement {
  readonly pairs: number;
  /** Mean of measured less predicted, µm, with its expanded uncertainty (95 %). */
  readonly biasMicrometres: number;
  readonly biasUncertaintyMicrometres: number;
  /** Standard deviation of measured less predicted, µm. */
  readonly spreadMicrometres: number;
  /** Share of the measured ones inside the predicted band, with its interval (95 %, Wilson). */
  readonly insideShare: number;
  readonly insideLow: number;
  readonly insideHigh: number;
}

const NORMAL_95 = 1.96;

/**
 * Interval of a share by Wilson's score (J Am Stat Assoc 22:209, 1927; from memory).
 * @throws RangeError for a count that is not from 0 to `of`, and where nothing was counted
 */
export function shareInterval(count: number, of: number): readonly [low: number, high: number] {
  if (!isWithin(of, 1) || !isWithin(count, 0, of)) throw new RangeError(`shareInterval: ${count} of ${of}`);
  const share = count / of;
  const square = NORMAL_95 ** 2;
  const middle = (share + square / (2 * of)) / (1 + square / of);
  const half =
    (NORMAL_95 * Math.sqrt((share * (1 - share)) / of + square / (4 * of ** 2))) / (1 + square / of);
  return [Math.max(0, middle - half), Math.min(1, middle + half)];
}

/**
 * Null for fewer than two pairs.
 * @throws RangeError for a pair that is not of finite numbers
 */
export function fitAgreement(pairs: readonly FitPair[]): FitAgreement | null {
  for (const { measuredMicrometres, likelyMicrometres, lowMicrometres, highMicrometres } of pairs) {
    const figures = [measuredMicrometres, likelyMicrometres, lowMicrometres, highMicrometres];
    if (!figures.every(Number.isFinite)) throw new RangeError(`fitAgreement: ${figures.join(', ')} µm`);
  }
  if (pairs.length < 2) return null;
  const differences = pairs.map(
    ({ measuredMicrometres, likelyMicrometres }) => measuredMicrometres - likelyMicrometres,
  );
  const bias = differences.reduce((sum, difference) => sum + difference, 0) / pairs.length;
  const variance =
    differences.reduce((sum, difference) => sum + (difference - bias) ** 2, 0) / (pairs.length - 1);
  const inside = pairs.filter(
    ({ measuredMicrometres: measured, lowMicrometres, highMicrometres }) =>
      measured >= lowMicrometres && measured <= highMicrometres,
  ).length;
  const [insideLow, insideHigh] = shareInterval(inside, pairs.length);
  return {
    pairs: pairs.length,
    biasMicrometres: bias,
    biasUncertaintyMicrometres: coverageFactor95(pairs.length - 1) * Math.sqrt(variance / pairs.length),
    spreadMicrometres: Math.sqrt(variance),
    insideShare: inside / pairs.length,
    insideLow,
    insideHigh,
  };
}

export interface StrainPair {
  /** Measured less the contraction from fitting to investing, µm. */
  readonly measuredMicrometres: number;
  /** Permanent error over the strain by which it was figured, µm: what a strain of 1 would have made. */
  readonly perStrainMicrometres: number;
}

export interface FittedStrain {
  readonly pairs: number;
  /** As a fraction, with its expanded uncertainty (95 %). */
  readonly strain: number;
  readonly uncertainty: number;
  /** What does not grow with the predicted error, µm, with its expanded uncertainty. */
  readonly constantMicrometres: number;
  readonly constantUncertaintyMicrometres: number;
  /** Share of the strain by which nine of ten measurements lie off at most: the half width of its band. */
  readonly spreadShare: number;
}

const LARGEST_SPREAD = 0.95;
const SMALLEST_SPREAD = 0.05;

/** Ordinary least squares of measured = constant + strain x perStrain. */
export function fitStrain(pairs: readonly StrainPair[]): Result<FittedStrain> {
  if (pairs.length < LEAST_PAIRS) return failure('too-few-fit-cases', { least: LEAST_PAIRS }, pairs.length);
  if (!pairs.every((pair) => isWithin(pair.measuredMicrometres, 0) && isWithin(pair.perStrainMicrometres, 0)))
    return failure('not-a-number', {}, 'measured, perStrain');
  const design = new Matrix(pairs.map(({ perStrainMicrometres }) => [1, perStrainMicrometres]));
  const measured = Matrix.columnVector(pairs.map(({ measuredMicrometres }) => measuredMicrometres));
  const normal = design.transpose().mmul(design);
  const range = pairs.map(({ perStrainMicrometres }) => perStrainMicrometres);
  if (!(Math.max(...range) - Math.min(...range) > 1e-6 * Math.max(...range)))
    return failure('fit-cases-alike', {}, range[0] ?? 0);
  const covariance = inverse(normal);
  const solved = covariance.mmul(design.transpose()).mmul(measured);
  const [constant, strain] = [solved.get(0, 0), solved.get(1, 0)];
  const residuals = pairs.map(
    (pair) => pair.measuredMicrometres - constant - strain * pair.perStrainMicrometres,
  );
  const freedom = pairs.length - 2;
  const variance = residuals.reduce((sum, residual) => sum + residual ** 2, 0) / freedom;
  const factor = coverageFactor95(freedom);
  const uncertainty = factor * Math.sqrt(variance * covariance.get(1, 1));
  // Nothing that could as well be nought is a calibration.
  if (!(strain - uncertainty > 0)) return failure('fit-cases-alike', {}, strain);
  const shares = pairs
    .map((pair, index) => Math.abs(residuals[index] ?? 0) / (strain * pair.perStrainMicrometres))
    .toSorted((left, right) => left - right);
  const nineOfTen = shares[Math.ceil(0.9 * shares.length) - 1] ?? LARGEST_SPREAD;
  return success({
    pairs: pairs.length,
    strain,
    uncertainty,
    constantMicrometres: constant,
    constantUncertaintyMicrometres: factor * Math.sqrt(variance * covariance.get(0, 0)),
    spreadShare: Math.min(LARGEST_SPREAD, Math.max(SMALLEST_SPREAD, nineOfTen, uncertainty / strain)),
  });
}
