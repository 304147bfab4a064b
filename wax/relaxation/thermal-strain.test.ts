import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkedThermalStrain, thermalStrain } from './thermal-strain.ts';
import { celsius } from '../units.ts';
import { waxClass } from '../wax-class.ts';
import { WAX_CLASS_IDS } from '../classes/wax-class-id.ts';

const id = fc.constantFrom(...WAX_CLASS_IDS);
const temperature = fc.double({ min: -20, max: 120, noNaN: true }).map(celsius);

describe('Thermal strain', () => {
  it('is additive over temperatures and zero on a closed path', () => {
    fc.assert(
      fc.property(id, temperature, temperature, temperature, (name, a, b, c) => {
        const wax = waxClass(name);
        expect(thermalStrain(wax, a, b) + thermalStrain(wax, b, c)).toBeCloseTo(thermalStrain(wax, a, c), 14);
        expect(thermalStrain(wax, a, b) + thermalStrain(wax, b, a)).toBeCloseTo(0, 14);
        expect(thermalStrain(wax, a, a)).toBe(0);
      }),
    );
  });

  it('never falls when it gets warmer', () => {
    fc.assert(
      fc.property(id, temperature, temperature, (name, a, b) => {
        expect(
          thermalStrain(waxClass(name), celsius(Math.min(a, b)), celsius(Math.max(a, b))),
        ).toBeGreaterThanOrEqual(0);
      }),
    );
  });

  it('grows at least as fast from the transition on', () => {
    for (const name of WAX_CLASS_IDS) {
      const coefficients = waxClass(name).expansion.map(({ coefficient }) => coefficient.value);
      expect(coefficients.at(-1)).toBeGreaterThanOrEqual(coefficients[0] ?? 0);
    }
  });

  it('is refused for what is no temperature', () => {
    for (const wrong of [Number.NaN, Number.POSITIVE_INFINITY, -274]) {
      const result = checkedThermalStrain(waxClass('paraffin'), 20, wrong);
      expect(!result.ok && result.problem.code).toBe('not-a-temperature');
    }
    const good = checkedThermalStrain(waxClass('paraffin'), 20, 21);
    expect(good.ok && good.value).toBeCloseTo(307e-6, 12);
  });
});
