import { describe, expect, it } from 'vitest';
import {
  type CalibrationEntry,
  calibrationCurve,
  calibrationResult,
  correctCelsius,
} from './calibration-entry.ts';

const entry: CalibrationEntry = {
  day: '2031-02-03',
  points: [
    { reading_celsius: 0.4, reference_celsius: 0 },
    { reading_celsius: 99.4, reference_celsius: 100 },
  ],
  reference_uncertainty_celsius: 0.2,
};

describe('a calibration that a lab wrote down', () => {
  it('corrects the points themselves exactly and between them along the line', () => {
    expect(correctCelsius(entry, 0.4)).toBeCloseTo(0, 9);
    expect(correctCelsius(entry, 99.4)).toBeCloseTo(100, 9);
    // Half way the two deviations, -0.4 and +0.6, give +0.1.
    expect(correctCelsius(entry, 49.9)).toBeCloseTo(50, 9);
  });
  it('carries at least the uncertainty of its reference', () => {
    const result = calibrationResult(entry);
    expect(result.ok && result.value.uncertainty_celsius).toBeCloseTo(0.2, 9);
  });
  it('grows by the scatter of a point', () => {
    const [first, last] = entry.points;
    if (first === undefined || last === undefined) throw new Error('two points');
    const result = calibrationResult({ ...entry, points: [first, { ...last, scatter_celsius: 0.1 }] });
    // 2 √(0.1² + 0.1²), at the point that scatters.
    expect(result.ok && result.value.uncertainty_celsius).toBeCloseTo(2 * Math.SQRT2 * 0.1, 9);
  });
  it('is refused where its points give no slope, and then corrects nothing', () => {
    const [first] = entry.points;
    if (first === undefined) throw new Error('a point');
    const near = { ...entry, points: [first, { reading_celsius: 2, reference_celsius: 2 }] };
    expect(calibrationCurve(near)).toMatchObject({ ok: false, problem: { code: 'calibration-points-near' } });
    expect(correctCelsius(near, 60)).toBe(60);
  });
});
