import { describe, expect, it } from 'vitest';
import { isNight, minutesOf, wander } from './night.ts';

describe('the night of the wall', () => {
  it.each([
    ['19:59', false],
    ['20:00', true],
    ['03:00', true],
    ['05:59', true],
    ['06:00', false],
  ])('at %s between 20:00 and 06:00 is night: %s', (clock, night) => {
    expect(isNight(clock, '20:00', '06:00')).toBe(night);
  });
  it('may lie within one day', () => {
    expect(isNight('13:00', '12:00', '14:00')).toBe(true);
    expect(isNight('11:00', '12:00', '14:00')).toBe(false);
  });
  it('is none when its ends meet or are no times', () => {
    expect(isNight('12:00', '08:00', '08:00')).toBe(false);
    expect(isNight('12:00', 'soon', '08:00')).toBe(false);
    expect(minutesOf('24:00')).toBeNull();
  });
});

describe('the wandering picture', () => {
  it('stays within the free edge and reaches every position', () => {
    const positions = new Set<string>();
    for (let minute = 0; minute < 60; minute += 1) {
      const [x, y] = wander(minute * 60_000);
      expect(Math.abs(x)).toBeLessThanOrEqual(4);
      expect(Math.abs(y)).toBeLessThanOrEqual(4);
      positions.add(`${x} ${y}`);
    }
    expect(positions.size).toBe(9);
  });
});
