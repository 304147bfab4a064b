import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { epochMillis } from '../../../wax/units.ts';
import { nextTryAt, retryAfterMillis } from './retry.ts';

const START = epochMillis(Date.parse('2031-03-04T12:00:00Z'));

describe('the next try', () => {
  it('comes later with each attempt, within a quarter of the plain pause, and the same each time it is worked out', () => {
    fc.assert(
      fc.property(fc.string(), fc.integer({ min: 1, max: 40 }), (key, attempts) => {
        const row = { key, channel: 'push' } as const;
        const pause = nextTryAt(row, attempts, null, START) - START;
        const plain = Math.min(5000 * 2 ** (attempts - 1), 60_000);
        expect(pause).toBeGreaterThanOrEqual(plain * 0.75 - 1);
        expect(pause).toBeLessThanOrEqual(plain * 1.25 + 1);
        expect(nextTryAt(row, attempts, null, START) - START).toBe(pause);
      }),
    );
  });

  it.each([
    ['120', 120_000],
    ['0', 0],
    ['Tue, 04 Mar 2031 12:01:30 GMT', 90_000],
    ['Tue, 04 Mar 2031 11:00:00 GMT', 0],
    ['soon', null],
    ['', null],
    [undefined, null],
  ])('reads Retry-After %j as %j ms', (header, expected) => {
    expect(retryAfterMillis(header, START)).toBe(expected);
  });

  it('is never before the time that the receiver demands, and at most an hour away', () => {
    const row = { key: 'a', channel: 'push' } as const;
    expect(nextTryAt(row, 1, 120_000, START) - START).toBe(120_000);
    expect(nextTryAt(row, 1, 86_400_000, START) - START).toBe(3_600_000);
  });
});
