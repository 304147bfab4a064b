import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { MILLIS_PER_DAY, MILLIS_PER_HOUR, MILLIS_PER_MINUTE } from '../../wax/units.ts';
import { bucketPlan } from './bucket-width.ts';

const span = fc
  .tuple(fc.integer({ min: 0, max: 3.9e12 }), fc.integer({ min: 1, max: 400 * MILLIS_PER_DAY }))
  .map(([from, length]) => ({ from, to: from + length }));

describe('the width of a bucket', () => {
  it.each([
    [MILLIS_PER_HOUR, 360, 10_000],
    [MILLIS_PER_DAY, 300, 5 * MILLIS_PER_MINUTE],
    [365 * MILLIS_PER_DAY, 1000, 12 * MILLIS_PER_HOUR],
  ])('is the least of the ladder: %i ms in %i points gives %i ms', (length, points, width) => {
    expect(bucketPlan({ from: 0, to: length, points })?.width).toBe(width);
  });

  it('never gives more buckets than were requested', () => {
    fc.assert(
      fc.property(span, fc.integer({ min: 1, max: 2000 }), ({ from, to }, points) => {
        const width = bucketPlan({ from, to, points })?.width ?? 0;
        const buckets = Math.floor((to - 1) / width) - Math.floor(from / width) + 1;
        expect(buckets).toBeLessThanOrEqual(points);
      }),
    );
  });
});
