import { describe, expect, it } from 'vitest';
import { instant } from '../../../tests/rehearsal.ts';
import { HOUR, place, every, run, begun } from '../../../tests/place-runs.ts';

describe('storage', () => {
  it.each([
    { swing: 5.5, raised: false },
    { swing: 6.1, raised: true },
  ])('that swings by $swing °C within a day: $raised', ({ swing, raised }) => {
    const slow = every(
      300,
      0,
      20 * HOUR,
      (second) => 18 + (swing / 2) * Math.sin((second / (20 * HOUR)) * 2 * Math.PI),
    );
    expect(begun(slow).includes('storage-swing')).toBe(raised);
  });
  it('forgets a swing when it slides out of the window', () => {
    const entries = every(300, 0, 40 * HOUR, (second) => (second < HOUR ? 14 : 20.5));
    const { findings } = run(entries);
    const raised = findings.filter(({ rule }) => rule === 'storage-swing').map(({ phase }) => phase);
    expect([raised[0], raised.at(-1)]).toEqual(['begins', 'ends']);
  });
  it.each([
    { rate: 5.9, raised: false },
    { rate: 6.2, raised: true },
  ])('that changes by $rate °C an hour: $raised', ({ rate, raised }) => {
    const entries = every(60, 0, 1800, (second) => 20 + (rate * second) / HOUR);
    expect(begun(entries).includes('storage-rate')).toBe(raised);
  });
  it.each([
    { celsius: 25, after: 1200, raised: false },
    { celsius: 25.1, after: 110, raised: false },
    { celsius: 25.1, after: 120, raised: true },
  ])('at $celsius °C for $after s, limit 25 °C: $raised', ({ celsius, after, raised }) => {
    expect(begun(every(10, 0, after, () => celsius)).includes('storage-warm')).toBe(raised);
  });
  it('reports in the morning what the night did', () => {
    const evening = 9 * HOUR - 600;
    const morning = 23 * HOUR + 600;
    const night = every(300, evening, morning, (second) =>
      second > 12 * HOUR && second < 20 * HOUR ? 15.5 : 20,
    );
    expect(begun(night)).toContain('night-swing');
    expect(begun(night.filter(({ receivedAt }) => receivedAt < instant(23 * HOUR)))).not.toContain(
      'night-swing',
    );
  });
  it('raises a cabinet that stays away from its usual temperature', () => {
    const usual = (second: number) => 18 + 0.3 * Math.sin(second / 900);
    const entries = every(60, 0, 6 * HOUR, (second) => (second > 5.5 * HOUR ? 21 : usual(second)));
    expect(begun(entries, place('cabinet'))).toContain('door-open');
    expect(begun(entries.slice(0, 335), place('cabinet'))).not.toContain('door-open');
  });
});
