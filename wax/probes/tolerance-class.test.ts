import { describe, expect, it } from 'vitest';
import { celsius } from '../units.ts';
import { standardUncertaintyOf, type ToleranceClass, toleranceOf } from './tolerance-class.ts';

describe('tolerance class', () => {
  it('is as wide below zero as above', () => {
    expect(toleranceOf('platinum-B', celsius(-40))).toEqual(toleranceOf('platinum-B', celsius(40)));
  });

  it.each([
    ['platinum-AA', 251],
    ['K-1', -41],
    ['T-2', 351],
    ['one-wire', 126],
    ['one-wire', Number.NaN],
  ] satisfies [ToleranceClass, number][])('promises nothing for %s at %d °C', (kind, t) => {
    const result = toleranceOf(kind, t as never);
    expect(result.ok ? null : result.problem.code).toBe('outside-probe-range');
  });

  it.each([
    ['one-wire', 85, 0.5],
    ['one-wire', 85.1, 2],
    ['one-wire', -10, 0.5],
    ['K-1', 70, 1.5],
    ['K-1', 400, 1.6],
    ['T-1', 70, 0.5],
  ] satisfies [ToleranceClass, number, number][])('allows %s at %d °C ± %d K', (kind, t, kelvins) => {
    expect(toleranceOf(kind, celsius(t))).toEqual({ ok: true, value: kelvins });
  });

  it('counts as a rectangular distribution', () => {
    expect(standardUncertaintyOf(0.5)).toBeCloseTo(0.288675, 6);
  });
});
