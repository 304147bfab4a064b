// Observed times to injury of ISO 13732-1 and of Moritz & Henriques 1947, from memory.
import { describe, expect, it } from 'vitest';
import { burnCaution } from '../../wax/burn-caution.ts';
import { celsius } from '../../wax/units.ts';

describe('burns', () => {
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
