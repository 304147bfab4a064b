import { describe, expect, it } from 'vitest';
import { clockAt, laterHour, nextInstantOf } from './clock-instant.ts';

const next = (clock: string, now: string, zone = 'Europe/Berlin'): string | null => {
  const at = nextInstantOf(clock, Date.parse(now), zone);
  return at === null ? null : new Date(at).toISOString();
};

describe('the instant that a time of day means', () => {
  it.each([
    ['19:00', '2026-03-04T16:00:30Z', '2026-03-04T18:00:00.000Z', 'later the same day'],
    ['06:30', '2026-03-04T16:00:30Z', '2026-03-05T05:30:00.000Z', 'the next morning'],
    ['17:00', '2026-03-04T16:00:00Z', '2026-03-05T16:00:00.000Z', 'a day ahead at the very minute'],
    [
      '06:30',
      '2026-03-28T20:00:00Z',
      '2026-03-29T04:30:00.000Z',
      'over the night in which clocks go forward',
    ],
    ['06:30', '2026-10-24T20:00:00Z', '2026-10-25T05:30:00.000Z', 'over the night in which clocks go back'],
  ])('is for %s at %s the instant %s, %s', (clock, now, expected) => {
    expect(next(clock, now)).toBe(expected);
  });
  it('follows a zone that is half an hour off', () => {
    expect(next('06:30', '2026-03-04T16:00:00Z', 'Asia/Kolkata')).toBe('2026-03-05T01:00:00.000Z');
  });
  it.each(['', '7:30', 'noon'])('is unknown for "%s"', (clock) => {
    expect(next(clock, '2026-03-04T16:00:00Z')).toBeNull();
  });
});

describe('a proposed time to stay until', () => {
  it('is a full hour that lies one to two hours ahead', () => {
    expect(clockAt(laterHour(Date.parse('2026-03-04T16:20:00Z')), 'Europe/Berlin')).toBe('19:00');
  });
});
