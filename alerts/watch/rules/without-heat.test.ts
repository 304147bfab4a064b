// A heater that falls and falls: dead, or switched off by somebody.

import { describe, expect, it } from 'vitest';
import { begun, every, HOUR } from '../../../tests/pot-runs.ts';
import { labOf, probeOf, waterBath } from '../../../tests/rehearsal.ts';

/** Turning between 88 and 92 °C each 400 s. */
const swing = (second: number): number => 90 + 2 * (1 - 4 * Math.abs(((second / 400) % 1) - 0.5));

describe('a pot with a ceiling of 100 °C that rises beyond its turns, then falls and falls', () => {
  const from = 4 * HOUR;
  /** Rising by 2 K a minute from its turns, then falling by 0.5. */
  const rises = (top: number) =>
    every(10, 0, 6.5 * HOUR, (second) => {
      const minutes = Math.max(0, second - from) / 60;
      const rising = (top - 88) / 2;
      if (second < from) return swing(second);
      return minutes < rising ? 88 + 2 * minutes : top - 0.5 * (minutes - rising);
    });
  it.each([
    { top: 96, raised: true },
    { top: 130, raised: false },
  ])('from $top °C is without heat: $raised', ({ top, raised }) => {
    expect(begun(rises(top)).includes('no-heat')).toBe(raised);
  });
  it('is announced by its ceiling, and not by its window too while it comes down', () => {
    const rules = begun(rises(130));
    expect(rules).toContain('over-ceiling');
    expect(rules).not.toContain('outside-window');
  });
  it('is without heat when its thermostat has turned it up again in between', () => {
    const again = every(10, 0, 6.5 * HOUR, (second) => {
      if (second < from || (second > from + HOUR && second < from + 1.5 * HOUR)) return swing(second);
      const minutes = (second - from) / 60;
      return minutes < 60 ? Math.max(88, 104 - 0.5 * minutes) : 88 - 0.5 * (minutes - 90);
    });
    expect(begun(again)).toContain('no-heat');
  });
});

describe('a bath that is warm for four hours and falls then', () => {
  const bath = labOf(
    [{ ...waterBath, window_celsius: [45, 55], ceiling_celsius: 65 }],
    [probeOf('p1', 'pot-1')],
  );
  /** Switched on each morning at ten. */
  const day = (second: number): number => {
    const hours = (second / HOUR) % 24;
    if (hours < 1 || hours > 14) return 21;
    return hours < 5 ? Math.min(50, 21 + 60 * (hours - 1)) : Math.max(21, 50 - 24 * (hours - 5));
  };
  it.each([
    { kelvins: 1, raised: true },
    { kelvins: 0.02, raised: false },
  ])(
    'or, forty minutes after it was filled warm, by $kelvins K a minute is without heat: $raised',
    (fall) => {
      const falls = every(20, 0, 2 * HOUR, (second) => 50 - fall.kelvins * Math.max(0, second / 60 - 40));
      expect(begun(falls, bath).includes('no-heat')).toBe(fall.raised);
    },
  );
  it('is without heat on the first day, and was switched off on days after it', () => {
    const days = begun(every(20, 0, 3 * 24 * HOUR - 1, day), bath);
    expect(days.filter((rule) => rule === 'no-heat')).toHaveLength(1);
  });
});
