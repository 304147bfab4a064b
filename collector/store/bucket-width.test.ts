import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { MILLIS_PER_DAY, MILLIS_PER_HOUR, MILLIS_PER_MINUTE } from '../../wax/units.ts';
import { bucketPlan, segments } from './bucket-width.ts';

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

  it('never gives more buckets than were asked for', () => {
    fc.assert(
      fc.property(span, fc.integer({ min: 1, max: 2000 }), ({ from, to }, points) => {
        const width = bucketPlan({ from, to, points })?.width ?? 0;
        const buckets = Math.floor((to - 1) / width) - Math.floor(from / width) + 1;
        expect(buckets).toBeLessThanOrEqual(points);
      }),
    );
  });
});

describe('the segments of a span', () => {
  it('cover the span once, in order, without a gap', () => {
    fc.assert(
      fc.property(span, fc.constantFrom(1000, 60_000, 3_600_000, MILLIS_PER_DAY), ({ from, to }, width) => {
        const parts = segments(from, to, width);
        expect(parts[0]?.from).toBe(from);
        expect(parts.at(-1)?.to).toBe(to);
        for (const [index, part] of parts.slice(1).entries()) expect(part.from).toBe(parts[index]?.to);
      }),
    );
  });

  it('read rows for less than a minute at each edge when the buckets are hours wide', () => {
    fc.assert(
      fc.property(span, ({ from, to }) => {
        const rows = segments(from, to, MILLIS_PER_DAY).filter(({ tier }) => tier === 'raw');
        const whole = rows.reduce((sum, row) => sum + row.to - row.from, 0);
        expect(whole).toBeLessThan(2 * MILLIS_PER_MINUTE);
      }),
    );
  });

  it('use only tiers that divide the width', () => {
    expect(segments(0, MILLIS_PER_DAY, 30_000).map(({ tier }) => tier)).toEqual(['raw']);
    expect(segments(0, MILLIS_PER_DAY, MILLIS_PER_MINUTE).map(({ tier }) => tier)).toEqual(['minute']);
  });
});
