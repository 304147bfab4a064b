// Time to a damage integral of 1 with P 3.1e98 1/s and E 6.28e5 J/mol (Henriques & Moritz 1947; constants found in
// several published codes), R 8.314, computed by another program (Python). Observed times from memory.
import { describe, expect, it } from 'vitest';
import { burnCaution, secondsToDamage } from '../../wax/burn-caution.ts';
import { celsius } from '../../wax/units.ts';

describe('burns', () => {
  it.each([
    [44, 87_911],
    [45, 41_584],
    [47, 9436],
    [50, 1055.7],
    [52, 250.7],
    [55, 29.97],
    [60, 0.947],
    [65, 0.0331],
  ])('the basal layer at %d °C is damaged after %d s', (t, seconds) => {
    const result = secondsToDamage(celsius(t));
    expect(result.ok ? Math.abs(result.value / seconds - 1) : result.problem).toBeLessThan(2e-3);
  });

  it.each([
    ['surface', 43, 28_800],
    ['surface', 48, 600],
    ['surface', 51, 60],
    ['liquid', 55, 30],
    ['liquid', 60, 3],
  ] as const)('names the recorded time of a %s at %d °C: %d s', (contact, t, seconds) => {
    const result = burnCaution(celsius(t), contact);
    expect(result.ok ? result.value.seconds?.value : result.problem).toBe(seconds);
  });
});
