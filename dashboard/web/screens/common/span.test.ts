import { describe, expect, it } from 'vitest';
import { axisTicks, moved, queryOf, SPAN_MILLIS, SPANS, tickStep, viewOf } from './span.ts';

const now = Date.UTC(2026, 10, 25, 12);

describe('spans of a chart', () => {
  it('are kept in the address and read back from it', () => {
    for (const span of SPANS)
      for (const to of [null, now])
        expect(viewOf(new URLSearchParams(queryOf({ span, to })))).toEqual({ span, to });
  });
  it('fall back to the shift that ends now when the address makes no sense', () => {
    expect(viewOf(new URLSearchParams('?span=eon&to=soon'))).toEqual({ span: 'shift', to: null });
  });
  it('move by half, and forward of the present means the present', () => {
    expect(moved({ span: 'day', to: null }, -1, now).to).toBe(now - SPAN_MILLIS.day / 2);
    expect(moved({ span: 'day', to: now - SPAN_MILLIS.day / 2 }, 1, now).to).toBeNull();
  });
  it('have at most ten ticks each', () => {
    for (const span of SPANS) expect(SPAN_MILLIS[span] / tickStep(SPAN_MILLIS[span])).toBeLessThanOrEqual(9);
  });
  it('have their days begin at midnight in the lab, on both sides of a clock change', () => {
    const ticks = axisTicks(Date.UTC(2026, 9, 22, 9), Date.UTC(2026, 9, 29, 9), 'Europe/Berlin');
    const hours = ticks.map((at) =>
      new Intl.DateTimeFormat('en-GB', {
        timeZone: 'Europe/Berlin',
        hour: '2-digit',
        minute: '2-digit',
      }).format(at),
    );
    expect(ticks.length).toBe(7);
    expect(new Set(hours)).toEqual(new Set(['00:00']));
  });
});
