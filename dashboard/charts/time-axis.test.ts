import { describe, expect, it } from 'vitest';
import { tickStep, timeAxis, timeTicks } from './time-axis.ts';

const HOUR = 3_600_000;
const formats = {
  unit: 'celsius',
  timeZone: 'Europe/Berlin',
  number: String,
  clock: (at: number) => new Date(at).toISOString().slice(11, 16),
  day: (at: number) => `day ${new Date(at + HOUR).getUTCDate()}`,
  moment: String,
} as const;

describe('the ticks of a time axis', () => {
  it('are at most nine steps apart for every span from an hour to a year', () => {
    for (const hours of [1, 8, 24, 168, 744, 8784])
      expect((hours * HOUR) / tickStep(hours * HOUR)).toBeLessThanOrEqual(9);
  });

  it('are at midnight in the lab on both sides of a clock change', () => {
    const ticks = timeTicks(Date.UTC(2026, 9, 22, 9), Date.UTC(2026, 9, 29, 9), 'Europe/Berlin');
    const clock = new Intl.DateTimeFormat('en-GB', {
      timeZone: 'Europe/Berlin',
      hour: '2-digit',
      minute: '2-digit',
    });
    expect(ticks.length).toBe(7);
    expect(new Set(ticks.map((at) => clock.format(at)))).toEqual(new Set(['00:00']));
  });

  it.each([
    ['skips', Date.UTC(2026, 2, 28, 21), Date.UTC(2026, 2, 29, 5)],
    ['repeats', Date.UTC(2026, 9, 24, 21), Date.UTC(2026, 9, 25, 5)],
  ])('rise strictly through a night that %s an hour', (_, from, to) => {
    const ticks = timeTicks(from, to, 'Europe/Berlin');
    expect(ticks.length).toBeGreaterThan(3);
    for (const [index, at] of ticks.entries()) expect(at).toBeGreaterThan(ticks[index - 1] ?? 0);
  });

  it('show the day at midnight only where the span is longer than a day', () => {
    const midnight = Date.UTC(2026, 0, 10, 23);
    const texts = (hours: number) =>
      timeAxis(midnight - 12 * HOUR, midnight + hours * HOUR, formats).ticks.map(({ text }) => text);
    expect(texts(10)).toContain('23:00');
    expect(texts(40)).toContain('day 11');
    expect(texts(300).every((text) => text.startsWith('day'))).toBe(true);
  });
});
