import { describe, expect, it } from 'vitest';
import { unmeasuredHeaters } from './unmeasured-heaters.ts';

describe('heaters that nobody measured in the night', () => {
  it('are named, and those with a reading are not', () => {
    const heaters = [
      { name: 'Dip pot', maxCelsius: null },
      { name: 'Annealer', maxCelsius: 22.5 },
      { name: 'Lamp', maxCelsius: null },
    ];
    expect(unmeasuredHeaters(heaters)).toBe('Dip pot, Lamp');
  });
  it('are none where each has a reading', () => {
    expect(unmeasuredHeaters([{ name: 'Annealer', maxCelsius: 22.5 }])).toBe('');
  });
});
