// A probe's own calibration at two or three points: the correction at any reading, and its uncertainty.
// The correction is the polynomial through the points (straight line or parabola, in Lagrange's form); uncertainty by
// the GUM (JCGM 100:2008, clause 5.1): what the points share (the reference thermometer) stays whole, what each has
// alone (scatter) is weighted. Beyond the points the weights grow, and with them the uncertainty.

import { isTemperature, isWithin } from '../reading-guard.ts';
import { failure, type Result, success } from '../result.ts';
import type { Celsius } from '../units.ts';

export interface CalibrationPoint {
  /** What the probe read. */
  readonly reading: Celsius;
  /** What the reference thermometer read at the same place. */
  readonly reference: Celsius;
  /** Standard deviation of the mean of the readings at this point, kelvins. */
  readonly scatter: number;
}

/** Plain JSON. */
export interface ProbeCalibration {
  /** In order of their readings. */
  readonly points: readonly CalibrationPoint[];
  /** Expanded uncertainty (k = 2) of the reference thermometer, shared by all points, kelvins. */
  readonly referenceUncertainty: number;
  /** Smallest step of the probe, kelvins. */
  readonly resolution: number;
}

/** Points nearer than this prove nothing about a slope, kelvins. */
const LEAST_APART = 5;
/** A probe off by more is broken, not out of calibration, kelvins. */
const FURTHEST_OFF = 10;
/** The corrected scale may be stretched or shrunk by this much at most; it must never fold over. */
const STEEPEST_CORRECTION = 0.5;

export function probeCalibration(
  points: readonly CalibrationPoint[],
  referenceUncertainty: number,
  resolution = 0,
): Result<ProbeCalibration> {
  if (points.length < 2 || points.length > 3) return failure('bad-calibration-points', {}, points.length);
  if (!isWithin(referenceUncertainty, 0) || !isWithin(resolution, 0))
    return failure('bad-uncertainty', {}, `${referenceUncertainty}, ${resolution}`);
  for (const { reading, reference, scatter } of points) {
    if (!isTemperature(reading) || !isTemperature(reference) || !isWithin(scatter, 0))
      return failure('bad-calibration-points', {}, reading);
    if (Math.abs(reference - reading) > FURTHEST_OFF)
      return failure('probe-too-far-off', { most_celsius_difference: FURTHEST_OFF }, reading);
  }
  const sorted = [...points].sort((first, second) => first.reading - second.reading);
  for (const [i, point] of sorted.entries()) {
    const next = sorted[i + 1];
    if (next !== undefined && next.reading - point.reading < LEAST_APART)
      return failure('calibration-points-near', { least_celsius_difference: LEAST_APART }, next.reading);
  }
  const calibration = { points: sorted, referenceUncertainty, resolution };
  const [first, last] = [sorted[0], sorted.at(-1)];
  if (first === undefined || last === undefined) return failure('bad-calibration-points', {}, 0);
  for (const end of [first.reading, last.reading])
    if (Math.abs(correctionSlope(calibration, end)) > STEEPEST_CORRECTION)
      return failure('calibration-too-steep', {}, end);
  return success(calibration);
}

/** Weight of each point's deviation at a reading (Lagrange); they sum to 1. */
const weights = ({ points }: ProbeCalibration, reading: number): number[] =>
  points.map((point, i) =>
    points.reduce(
      (product, node, k) =>
        k === i ? product : (product * (reading - node.reading)) / (point.reading - node.reading),
      1,
    ),
  );

function correctionAt(calibration: ProbeCalibration, reading: number): number {
  const { points } = calibration;
  const [first, last] = [points[0], points.at(-1)];
  if (first === undefined || last === undefined) return 0;
  // Beyond the points the curve goes on straight, so that a parabola cannot run away.
  const held = Math.min(last.reading, Math.max(first.reading, reading));
  const inside = weights(calibration, held).reduce(
    (sum, weight, i) => sum + weight * ((points[i]?.reference ?? 0) - (points[i]?.reading ?? 0)),
    0,
  );
  return held === reading ? inside : inside + correctionSlope(calibration, held) * (reading - held);
}

/** Exact for parabolas: the central difference of a polynomial of degree two. */
function correctionSlope({ points }: ProbeCalibration, reading: number): number {
  const deviation = (at: number): number =>
    weights({ points, referenceUncertainty: 0, resolution: 0 }, at).reduce(
      (sum, weight, i) => sum + weight * ((points[i]?.reference ?? 0) - (points[i]?.reading ?? 0)),
      0,
    );
  return (deviation(reading + 1) - deviation(reading - 1)) / 2;
}

export interface Corrected {
  readonly celsius: Celsius;
  /** Expanded (k = 2), kelvins. */
  readonly uncertainty: number;
  /** The reading lies outside the calibrated range. */
  readonly extrapolated: boolean;
}

/**
 * The corrected temperature with its uncertainty.
 * @throws RangeError for a reading that is no temperature.
 */
export function applyCalibration(calibration: ProbeCalibration, reading: Celsius): Corrected {
  if (!isTemperature(reading)) throw new RangeError(`applyCalibration: ${reading} °C`);
  const { points, referenceUncertainty, resolution } = calibration;
  const [first, last] = [points[0], points.at(-1)];
  const scatter = weights(calibration, reading).reduce(
    (sum, weight, i) => sum + (weight * (points[i]?.scatter ?? 0)) ** 2,
    0,
  );
  return {
    celsius: (reading + correctionAt(calibration, reading)) as Celsius,
    // A step of the display is a rectangular distribution: step/√12.
    uncertainty: 2 * Math.sqrt((referenceUncertainty / 2) ** 2 + scatter + resolution ** 2 / 12),
    extrapolated:
      first !== undefined && last !== undefined && (reading < first.reading || reading > last.reading),
  };
}
