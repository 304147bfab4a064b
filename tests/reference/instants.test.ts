// Instants of RFC 3339, section 5.8, as their authors resolve them, and what looks like one and is none.
import { describe, expect, it } from 'vitest';
import { isoMillis } from '../../collector/decode/iso-instant.ts';

describe('an instant as text', () => {
  it.each([
    ['1985-04-12T23:20:50.52Z', Date.UTC(1985, 3, 12, 23, 20, 50, 520)],
    ['1996-12-19T16:39:57-08:00', Date.UTC(1996, 11, 20, 0, 39, 57)],
    // The leap second at the end of 1990, in two zones.
    ['1990-12-31T23:59:60Z', Date.UTC(1991, 0, 1)],
    ['1990-12-31T15:59:60-08:00', Date.UTC(1991, 0, 1)],
    ['1937-01-01T12:00:27.87+00:20', Date.UTC(1937, 0, 1, 11, 40, 27, 870)],
    ['2026-06-01t10:00:00z', Date.UTC(2026, 5, 1, 10)],
    ['2026-06-01 10:00:00+0200', Date.UTC(2026, 5, 1, 8)],
    ['2026-06-01T10:00:00.123456789+02', Date.UTC(2026, 5, 1, 8, 0, 0, 123)],
    ['2024-02-29T10:00Z', Date.UTC(2024, 1, 29, 10)],
  ])('%s is resolved', (text, millis) => {
    expect(Math.round(isoMillis(text))).toBe(millis);
  });

  it.each([
    '5',
    '2026',
    '1780300800',
    '2026-06-01',
    'June 1, 2026 10:00',
    '2026-02-30T10:00:00Z',
    '2026-02-29T10:00:00Z',
    '2026-13-01T10:00:00Z',
    '2026-06-01T25:00:00Z',
    '2026-06-01T10:60:00Z',
    '2026-06-01T10:00:60Z',
    '2026-06-01T10:00:00+25:00',
    '',
  ])('%j is none', (text) => {
    expect(isoMillis(text)).toBeNaN();
  });
});
