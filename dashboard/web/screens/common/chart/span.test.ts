import { describe, expect, it } from 'vitest';
import { moveView, queryOf, SPAN_MILLIS, SPANS, spanSince, viewOf } from './span.ts';

const now = Date.UTC(2026, 10, 25, 12);

describe('the span of a chart', () => {
  it('is the same after a way through the address', () => {
    for (const span of SPANS)
      for (const to of [null, now])
        expect(viewOf(new URLSearchParams(queryOf({ span, to })))).toEqual({ span, to });
  });
  it('is the shift that ends now when the address makes no sense', () => {
    expect(viewOf(new URLSearchParams('?span=eon&to=soon'))).toEqual({ span: 'shift', to: null });
  });
  it.each([
    [1, 'shift'],
    [7, 'shift'],
    [7.5, 'day'],
    [21, 'day'],
    [22, 'week'],
    [24 * 20, 'month'],
    [24 * 40, 'year'],
    [24 * 800, 'year'],
  ] as const)('holds an alarm of %d hours ago with what led to it in a %s', (hours, span) => {
    expect(spanSince(now - hours * 3_600_000, now)).toBe(span);
  });
  it('is what the address names, else the one that is usual there', () => {
    expect(viewOf(new URLSearchParams('?span=hour'), 'week').span).toBe('hour');
    expect(viewOf(new URLSearchParams(''), 'week').span).toBe('week');
  });
  it('moves by half of itself, and no further than the present', () => {
    expect(moveView({ span: 'day', to: null }, -1, now).to).toBe(now - SPAN_MILLIS.day / 2);
    expect(moveView({ span: 'day', to: now - SPAN_MILLIS.day / 2 }, 1, now).to).toBeNull();
  });
});
