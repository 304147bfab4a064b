import { describe, expect, it } from 'vitest';
import { spanFigures, temperatureHistoryChart } from './temperature-history.ts';

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
const formats = {
  unit: 'celsius' as 'celsius' | 'fahrenheit',
  timeZone: 'UTC',
  number: String,
  clock: String,
  day: String,
  moment: String,
};
const station = { windowLow: null, windowHigh: null, ceiling: null };
const chartOf = (buckets: ReturnType<typeof bucket>[], more = {}) =>
  temperatureHistoryChart(
    { station, readings: [readings(buckets)], events: [], from: start, to: start + 3_600_000 },
    { ...formats, ...more },
    { label: 'chart', ceiling: 'ceiling' },
  );

describe('the history of a station as a chart', () => {
  it('breaks the line where buckets are missing', () => {
    const [series] = chartOf([bucket(0, 70), bucket(1, 71), bucket(9, 72)]).series;
    expect(series?.points.map(({ y }) => y)).toEqual([70, 71, null, 72]);
    expect(series?.band.map(({ low }) => low)).toEqual([69, 70, null, 71]);
  });

  it('joins buckets of a probe that sends seldom', () => {
    const [series] = chartOf([bucket(0, 70), bucket(2, 71)]).series;
    expect(series?.points.map(({ y }) => y)).toEqual([70, 71]);
  });

  it('keeps the extremes of each bucket, in the unit of the reader', () => {
    const [series] = chartOf([bucket(0, 70)], { unit: 'fahrenheit' }).series;
    expect(series?.band).toEqual([{ x: start, low: 156.2, high: 161.6 }]);
  });

  it('shows the alarms that were raised within the span, and no others', () => {
    const event = (id: string, x: number) => ({ id, x, text: id, tone: 'high' as const });
    const { events } = temperatureHistoryChart(
      {
        station,
        readings: [],
        from: start,
        to: start + 60_000,
        events: [event('before', start - 1), event('within', start), event('after', start + 60_001)],
      },
      formats,
      { label: '', ceiling: '' },
    );
    expect(events.map(({ id }) => id)).toEqual(['within']);
  });
});

describe('the figures of a span', () => {
  it('weigh the mean by readings and count the gaps', () => {
    const figures = spanFigures(readings([bucket(0, 70, 1), bucket(1, 80, 3), bucket(30, 80, 0)]));
    expect(figures).toEqual({ min: 69, max: 82, mean: 77.5, gaps: 1, count: 4 });
  });

  it('are absent when the span has no readings', () => {
    expect(spanFigures(readings([]))).toBeNull();
  });
});
