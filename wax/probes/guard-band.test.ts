import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { guardedDecision } from './guard-band.ts';

const verdict = (celsius: number, uncertainty: number, risk?: number) => {
  const decision = guardedDecision(celsius, {
    limit: 100,
    side: 'most',
    uncertainty,
    ...(risk === undefined ? {} : { risk }),
  });
  return decision.ok ? decision.value.verdict : decision.problem.code;
};

describe('guard band', () => {
  // u = 0.5 K, 1.644854 standard uncertainties for 5 %: 0.822 K.
  it.each([
    [99.17, 'inside'],
    [99.18, 'too-close'],
    [100, 'too-close'],
    [100.82, 'too-close'],
    [100.83, 'outside'],
  ])('judges %d °C against at most 100 °C with U = 1 K as %s', (celsius, expected) => {
    expect(verdict(celsius, 1)).toBe(expected);
  });

  it('has no "too close" without uncertainty or when an even chance is accepted', () => {
    expect([verdict(100, 0), verdict(100.001, 0), verdict(99.99, 1, 0.5), verdict(100.01, 1, 0.5)]).toEqual([
      'inside',
      'outside',
      'inside',
      'outside',
    ]);
  });

  it('is the mirror image for a limit from below', () => {
    fc.assert(
      fc.property(fc.double({ min: -5, max: 5, noNaN: true }), (by) => {
        const most = guardedDecision(100 + by, { limit: 100, side: 'most', uncertainty: 1 });
        const least = guardedDecision(100 - by, { limit: 100, side: 'least', uncertainty: 1 });
        return (
          most.ok &&
          least.ok &&
          most.value.verdict === least.value.verdict &&
          Math.abs(most.value.chanceBeyond - least.value.chanceBeyond) < 1e-9
        );
      }),
    );
  });

  it('is inside only when the chance of being beyond is within the risk', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 90, max: 110, noNaN: true }),
        fc.double({ min: 0.01, max: 5, noNaN: true }),
        fc.double({ min: 0.001, max: 0.5, noNaN: true }),
        (celsius, uncertainty, risk) => {
          const decision = guardedDecision(celsius, { limit: 100, side: 'most', uncertainty, risk });
          if (!decision.ok) return false;
          const { chanceBeyond, verdict: said } = decision.value;
          if (said === 'inside') return chanceBeyond <= risk + 1e-9;
          return said === 'outside' ? chanceBeyond >= 1 - risk - 1e-9 : true;
        },
      ),
    );
  });

  it.each([
    [Number.NaN, 1, 0.05, 'not-a-temperature'],
    [20, -1, 0.05, 'bad-uncertainty'],
    [20, Infinity, 0.05, 'bad-uncertainty'],
    [20, 1, 0, 'bad-risk'],
    [20, 1, 0.6, 'bad-risk'],
  ])('refuses %d °C, U %d K, risk %d with %s', (celsius, uncertainty, risk, expected) => {
    expect(verdict(celsius, uncertainty, risk)).toBe(expected);
  });
});
