import { describe, expect, it } from 'vitest';
import { appendTrend } from './trend.ts';

const minute = (index: number) => new Date(Date.UTC(2026, 10, 25, 10, index)).toISOString();
const point = (index: number, mean: number) => ({ at: minute(index), min: mean, mean, max: mean });

describe('the last hour of a station', () => {
  it('takes a reading of the same minute into its bucket and keeps the extremes', () => {
    const [only] = appendTrend([point(0, 70)], new Date(Date.parse(minute(0)) + 20_000).toISOString(), 72);
    expect(only).toMatchObject({ at: minute(0), min: 70, max: 72 });
  });
  it('begins a bucket for a new minute and leaves a gap where minutes are missing', () => {
    expect(appendTrend([point(0, 70)], minute(9), 71).map((each) => each.at)).toEqual([minute(0), minute(9)]);
  });
  it('drops what is older than an hour', () => {
    expect(appendTrend([point(0, 70), point(30, 71)], minute(80), 72).map((each) => each.at)).toEqual([
      minute(30),
      minute(80),
    ]);
  });
  it('does not let a late reading change what is drawn', () => {
    expect(appendTrend([point(5, 70)], minute(2), 40)).toEqual([point(5, 70)]);
  });
  it('stays as it is when there is no reading', () => {
    expect(appendTrend([point(5, 70)], null, null)).toEqual([point(5, 70)]);
  });
});
