import { describe, expect, it } from 'vitest';
import { COMMON_SILENCE, silenceSeconds } from './silence-length.ts';

describe('the silence of a probe that sends every', () => {
  it.each([
    { period: 1, alone: 480, together: 300 },
    { period: 10, alone: 480, together: 300 },
    { period: 60, alone: 510, together: 330 },
    { period: 120, alone: 1020, together: 660 },
    { period: 300, alone: 1680, together: 1650 },
    { period: 600, alone: 3000, together: 3000 },
    { period: 3600, alone: 18_000, together: 18_000 },
  ])('$period s counts after $alone s alone, and after $together s with all of its gateway', (row) => {
    expect(silenceSeconds({ periods: 8, leastSeconds: 480 }, row.period)).toBe(row.alone);
    expect(silenceSeconds(COMMON_SILENCE, row.period)).toBe(row.together);
  });
});
