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
