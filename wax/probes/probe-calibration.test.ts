import { describe, expect, it } from 'vitest';
import { type Celsius, celsius } from '../units.ts';
import { type CalibrationPoint, applyCalibration, probeCalibration } from './probe-calibration.ts';

const point = (reading: number, off: number, scatter = 0): CalibrationPoint => ({
  reading: celsius(reading),
  reference: celsius(reading + off),
  scatter,
});
const made = (points: readonly CalibrationPoint[], referenceUncertainty = 0, resolution = 0) => {
  const calibration = probeCalibration(points, referenceUncertainty, resolution);
  if (!calibration.ok) throw new Error(calibration.problem.code);
  return calibration.value;
};

describe('probe calibration', () => {
  it('meets each of its points', () => {
    const calibration = made([point(0, 0.3), point(100, -0.5), point(50, 0.1)]);
    expect([0, 50, 100].map((t) => applyCalibration(calibration, celsius(t)).celsius)).toEqual([
      0.3, 50.1, 99.5,
    ]);
  });

  it('goes on straight beyond the points and is marked as doing so', () => {
    const calibration = made([point(0, 0), point(50, 1), point(100, 0)]);
    expect(applyCalibration(calibration, celsius(110))).toMatchObject({ extrapolated: true });
    expect(applyCalibration(calibration, celsius(110)).celsius).toBeCloseTo(110 - 0.4, 9);
    expect(applyCalibration(calibration, celsius(100)).extrapolated).toBe(false);
  });

  it('keeps the uncertainty of the reference whole and weighs the scatter of the points', () => {
    const calibration = made([point(0, 0, 0.1), point(100, 0, 0.1)], 0.2, 0);
    expect(applyCalibration(calibration, celsius(0)).uncertainty).toBeCloseTo(2 * Math.hypot(0.1, 0.1), 12);
    expect(applyCalibration(calibration, celsius(50)).uncertainty).toBeCloseTo(
      2 * Math.hypot(0.1, 0.1 / Math.SQRT2),
      12,
    );
    expect(applyCalibration(calibration, celsius(200)).uncertainty).toBeCloseTo(
      2 * Math.hypot(0.1, 0.1 * Math.sqrt(5)),
      12,
    );
  });

  it('counts the smallest step of the probe as a rectangular distribution', () => {
    const calibration = made([point(0, 0), point(100, 0)], 0, 0.5);
    expect(applyCalibration(calibration, celsius(20)).uncertainty).toBeCloseTo(0.288675, 6);
  });

  it.each([
    [[point(0, 0)], 'bad-calibration-points'],
    [[point(0, 0), point(1, 0)], 'calibration-points-near'],
    [[point(0, 0), point(50, 11)], 'probe-too-far-off'],
    [[point(0, 5), point(6, -5)], 'calibration-too-steep'],
    [[point(0, 0), point(20, 0), point(40, 0), point(60, 0)], 'bad-calibration-points'],
    [[point(0, 0, -1), point(50, 0)], 'bad-calibration-points'],
    [
      [{ reading: Number.NaN as Celsius, reference: celsius(0), scatter: 0 }, point(50, 0)],
      'bad-calibration-points',
    ],
  ])('refuses points that cannot make a curve (%#)', (points, expected) => {
    const result = probeCalibration(points, 0.1);
    expect(result.ok ? null : result.problem.code).toBe(expected);
  });

  it('refuses an uncertainty that is none', () => {
    const result = probeCalibration([point(0, 0), point(50, 0)], Number.NaN);
    expect(result.ok ? null : result.problem.code).toBe('bad-uncertainty');
  });
});
