import { describe, expect, it } from 'vitest';
import { qualitySpan, spanAsked } from './quality-span.ts';

const DAY = 86_400_000;

describe('the span of alarm quality', () => {
  it.each([
    ['day', 99, 100],
    ['thirty-days', 70, 100],
    ['thirty-before', 40, 70],
  ])('%s runs from day %d to day %d', (asked, from, to) => {
    expect(spanAsked(qualitySpan(asked), 100 * DAY)).toEqual({ from: from * DAY, to: to * DAY });
  });
  it('is the last day when the address names no span', () => {
    expect([null, '', 'year'].map(qualitySpan)).toEqual(['day', 'day', 'day']);
  });
});
