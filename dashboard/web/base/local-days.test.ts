import { describe, expect, it } from 'vitest';
import { dayAfter, formatMonth, instantShown, localDay, monthMoved } from './local-days.ts';

describe('days of the night sheet', () => {
  it('are those of the lab, not of UTC', () => {
    const at = Date.parse('2026-07-01T23:30:00Z');
    expect(localDay(at, 'Europe/Berlin')).toBe('2026-07-02');
    expect(localDay(at, 'America/New_York')).toBe('2026-07-01');
  });
  it('follow each other over the end of a month and a leap day', () => {
    expect(dayAfter('2028-02-28')).toBe('2028-02-29');
    expect(dayAfter('2026-12-31')).toBe('2027-01-01');
  });
  it('name their month in the reader’s language', () => {
    expect(formatMonth('2026-03', { locale: 'de-DE' })).toBe('März 2026');
  });
  it('have months on either side of the new year', () => {
    expect(monthMoved('2026-01', -1)).toBe('2025-12');
    expect(monthMoved('2026-12', 1)).toBe('2027-01');
  });
});

describe('the instant of a clock in the lab', () => {
  it.each([
    ['in summer', '2031-07-04T09:00', '2031-07-04T07:00:00Z'],
    ['in winter', '2031-01-04T09:00', '2031-01-04T08:00:00Z'],
    ['the earlier of two when the clock goes back', '2031-10-26T02:30', '2031-10-26T00:30:00Z'],
    ['an hour on where the clock leaps', '2031-03-30T02:30', '2031-03-30T01:30:00Z'],
  ])('is found %s', (_, local, instant) => {
    expect(instantShown(local, 'Europe/Berlin')).toBe(Date.parse(instant));
  });

  it.each(['', '2031-07-04', '2031-07-04T', 'T09:00', '2031-02-30T25:00'])('is none for “%s”', (local) => {
    expect(instantShown(local, 'Europe/Berlin')).toBeNull();
  });
});
