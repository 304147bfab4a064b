import { describe, expect, it } from 'vitest';
import { dayAfter, formatMonth, localDay, monthMoved } from './night-days.ts';

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
