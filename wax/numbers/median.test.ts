import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { median } from './median.ts';

const values = fc.array(fc.double({ min: -1e6, max: 1e6, noNaN: true }), { minLength: 1 });

describe('the median', () => {
  it('has as many values at or below it as at or above it', () => {
    fc.assert(
      fc.property(values, (given) => {
        const middle = median(given);
        const below = given.filter((value) => value <= middle).length;
        const above = given.filter((value) => value >= middle).length;
        expect(Math.min(below, above) * 2).toBeGreaterThanOrEqual(given.length);
      }),
    );
  });

  it('of an even number of values lies in the middle of the two in the middle', () => {
    expect(median([3, 1, 2, 10])).toBe(2.5);
  });

  it('of no values is no number', () => {
    expect(median([])).toBeNaN();
  });
});
