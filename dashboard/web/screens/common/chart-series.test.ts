import { describe, expect, it } from 'vitest';
import { chartSeries, spanFigures } from './chart-series.ts';

const start = Date.UTC(2026, 10, 25, 10);
const bucket = (minute: number, mean: number, count = 6) => ({
  at: new Date(start + minute * 60_000).toISOString(),
  min: mean - 1,
  max: mean + 2,
  mean,
  count,
  doubtful: 0,
});
const readings = (buckets: ReturnType<typeof bucket>[]) => ({
  probe: 'p',
  from: new Date(start).toISOString(),
  to: new Date(start + 3_600_000).toISOString(),
  bucketSeconds: 60,
  buckets,
});

describe('what the chart draws', () => {
  it('lifts the pen where buckets are missing', () => {
    const { mean } = chartSeries(readings([bucket(0, 70), bucket(1, 71), bucket(9, 72)]), (value) => value);
    expect(mean.map((point) => point.y)).toEqual([70, 71, null, 72]);
  });
  it('joins buckets whose probe merely sends seldom', () => {
    const { mean } = chartSeries(readings([bucket(0, 70), bucket(2, 71)]), (value) => value);
    expect(mean.map((point) => point.y)).toEqual([70, 71]);
  });
  it('keeps the extremes of each bucket, in the unit of the reader', () => {
    const { min, max } = chartSeries(readings([bucket(0, 70)]), (value) => value * 2);
    expect([min[0]?.y, max[0]?.y]).toEqual([138, 144]);
  });
});

describe('the span in figures', () => {
  it('weighs the mean by readings and counts the gaps', () => {
    const figures = spanFigures(readings([bucket(0, 70, 1), bucket(1, 80, 3), bucket(30, 80, 0)]));
    expect(figures).toEqual({ min: 69, max: 82, mean: 77.5, gaps: 1, count: 4 });
  });
  it('is nothing when there was nothing', () => {
    expect(spanFigures(readings([]))).toBeNull();
  });
});
