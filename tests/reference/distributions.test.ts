// Second opinion: the general statistics package jstat; and the printed 5 % point of the normal distribution.
import jstat from 'jstat';
import { describe, expect, it } from 'vitest';
import { coverageFactor95 } from '../../wax/numbers/coverage-factor.ts';
import { normalProbability, normalQuantile } from '../../wax/numbers/normal-distribution.ts';

const { normal, studentt } = jstat.jStat;

describe('normal distribution and Student t', () => {
  it('has 1.644854 and 1.959964 at 95 and 97.5 % (any table)', () => {
    expect(normalQuantile(0.95)).toBeCloseTo(1.644854, 6);
    expect(normalQuantile(0.975)).toBeCloseTo(1.959964, 6);
  });

  it('agrees with jstat from -6 to 6', () => {
    for (let x = -6; x <= 6; x += 0.25)
      expect(Math.abs(normalProbability(x) - normal.cdf(x, 0, 1))).toBeLessThan(2e-7);
    for (let p = 0.01; p < 1; p += 0.01)
      expect(Math.abs(normalQuantile(p) - normal.inv(p, 0, 1))).toBeLessThan(1e-5);
  });

  it('covers the far tail: 9.8659e-10 beyond 6 and 6.2210e-16 beyond 8 standard deviations', () => {
    expect(normalProbability(-6) / 9.865876e-10).toBeCloseTo(1, 6);
    expect(normalProbability(-8) / 6.220961e-16).toBeCloseTo(1, 6);
  });

  it('rounds Student t as table G.2 of the GUM does, never below the exact value by more than that rounding', () => {
    for (let degrees = 1; degrees <= 200; degrees++) {
      const exact = studentt.inv(0.975, degrees);
      expect(coverageFactor95(degrees)).toBeGreaterThan(exact - 0.006);
      expect(coverageFactor95(degrees)).toBeLessThan(exact * 1.03);
    }
    expect(coverageFactor95(0)).toBe(Infinity);
  });
});
