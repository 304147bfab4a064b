import { describe, expect, it } from 'vitest';
import { appendTrend, hasTurned } from './trend.ts';

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

describe('a temperature against the line through its last minutes', () => {
  const minutes = [point(0, 104), point(1, 108.2)];

  it.each([
    { celsius: 108.4, celsiusPerHour: 120, turned: false, title: 'goes on rising' },
    { celsius: 107.8, celsiusPerHour: 120, turned: false, title: 'is within the noise of its peak' },
    {
      celsius: 106.6,
      celsiusPerHour: 48,
      turned: true,
      title: 'falls from its peak while the line still rises',
    },
    { celsius: 103.2, celsiusPerHour: -48, turned: false, title: 'goes on falling' },
    { celsius: 104.8, celsiusPerHour: -48, turned: true, title: 'rises again while the line still falls' },
    { celsius: null, celsiusPerHour: 120, turned: false, title: 'is not measured' },
  ])('has turned: $turned, when it $title', ({ turned, ...reading }) => {
    expect(hasTurned({ ...reading, trend: minutes })).toBe(turned);
  });
});
