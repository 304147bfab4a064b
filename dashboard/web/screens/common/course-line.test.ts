import { describe, expect, it } from 'vitest';
import { courseLine, degreeLines } from './course-line.ts';

const at = (minute: number) => new Date(Date.UTC(2026, 0, 1, 0, minute)).toISOString();
const x = (instant: number) => (instant - Date.UTC(2026, 0, 1)) / 60_000;

describe('the course of a night', () => {
  it('is one line while readings come, and broken where they do not', () => {
    const points = [0, 1, 2, 30, 31].map((minute) => ({ at: at(minute), mean: 20 }));
    expect(courseLine(points, 60, x, (celsius) => celsius)).toBe(
      'M0.0 20.0L1.0 20.0L2.0 20.0M30.0 20.0L31.0 20.0',
    );
  });
  it('has its levels on whole degrees of the reader’s unit', () => {
    expect(degreeLines(17, 26, 'celsius')).toEqual([18, 20, 22, 24, 26]);
    expect(degreeLines(17, 26, 'fahrenheit').map((one) => Math.round(one * 1.8 + 32))).toEqual([65, 70, 75]);
  });
});
