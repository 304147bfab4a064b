import { describe, expect, it } from 'vitest';
import { moved, queryOf, SPAN_MILLIS, SPANS, viewOf } from './span.ts';

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
  it('moves by half of itself, and no further than the present', () => {
    expect(moved({ span: 'day', to: null }, -1, now).to).toBe(now - SPAN_MILLIS.day / 2);
    expect(moved({ span: 'day', to: now - SPAN_MILLIS.day / 2 }, 1, now).to).toBeNull();
  });
});
