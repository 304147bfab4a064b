// What is learned of a heater while its probe is stuck would make faults of its ordinary turns afterwards.

import { describe, expect, it } from 'vitest';
import { begun, every, HOUR } from '../../../tests/pot-runs.ts';

describe('a pot whose probe was stuck at the top of its turns overnight', () => {
  /** From 90 °C down to 80 °C and up again in 24 min. */
  const turning = (at: number) => 80 + 20 * Math.abs(((at / (24 * 60)) % 1) - 0.5);
  const stuck = { from: 12 * 24 * 60, to: 24 * HOUR };
  const top = 89.9;
  const readings = (celsius: (at: number) => number) => every(10, 0, 33 * HOUR, celsius);
  it('turns as before when the probe is well again: none of them is a heater without heat', () => {
    const rules = begun(readings((at) => (at >= stuck.from && at < stuck.to ? top : turning(at))));
    expect(rules).toContain('probe-stuck');
    expect(rules.filter((rule) => rule !== 'probe-stuck' && rule !== 'left-on')).toEqual([]);
  });
});

describe('a probe of a pot that is off', () => {
  const since = 30 * HOUR;
  /** At a room's temperature, with noise of about a step of 0.1 K, or of a tenth of one. */
  const atRest = (noise: number) => (at: number) => {
    const then = Math.min(at, since);
    const unrest = [0.3, -0.8, 0.9, -0.4, 0.6, -0.9, 0.1][(then / 10) % 7] ?? 0;
    return Math.round((21 + noise * unrest) * 10) / 10;
  };
  it.each([
    { fineness: 'as its step', noise: 0.1, raised: true },
    { fineness: 'far below its step', noise: 0.01, raised: false },
  ])(
    'whose noise is $fineness and then says the same for half an hour is stuck: $raised',
    ({ noise, raised }) => {
      const rules = begun(every(10, 0, since + 1800, atRest(noise)));
      expect(rules.includes('probe-stuck')).toBe(raised);
    },
  );
});
