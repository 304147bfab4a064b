import { describe, expect, it } from 'vitest';
import { waitBeforeAttempt } from './live-line.ts';

describe('the wait before the line is opened again', () => {
  it('doubles from half a second and ends at fifteen', () => {
    expect([0, 1, 2, 3, 4, 5, 6, 20].map((attempt) => waitBeforeAttempt(attempt, 1))).toEqual([
      500, 1000, 2000, 4000, 8000, 15_000, 15_000, 15_000,
    ]);
  });
  it('is spread over its upper half, so that screens that fell together do not come together', () => {
    expect(waitBeforeAttempt(3, 0)).toBe(2000);
    expect(waitBeforeAttempt(3, 0.5)).toBe(3000);
  });
});
