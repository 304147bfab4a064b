import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { arrheniusRate, meanThermalFactor, thermalFactor, type ThermalRate } from './thermal-rate.ts';
import { celsius, joulesPerMole } from '../units.ts';

/** A law whose rate is nought at and below a temperature of its own (Williams, Landel and Ferry). */
const freezing = (c1: number): ThermalRate => ({
  slope: Math.LN10 * c1 * 51.6,
  zero: 37 - 51.6,
  reference: 37,
});
const rates = fc.oneof(
  fc
    .double({ min: 500, max: 300e3, noNaN: true })
    .map((energy) => arrheniusRate(joulesPerMole(energy), celsius(70))),
  fc.double({ min: 5, max: 25, noNaN: true }).map((c1) => freezing(c1)),
);
const temperature = fc.integer({ min: -4000, max: 20_000 }).map((hundredths) => hundredths / 100);

describe('The mean factor along a ramp', () => {
  it('lies between the factors of its ends and is the same in both directions', () => {
    fc.assert(
      fc.property(rates, temperature, temperature, (rate, a, b) => {
        const mean = meanThermalFactor(rate, a, b);
        const [low, high] = [thermalFactor(rate, Math.min(a, b)), thermalFactor(rate, Math.max(a, b))];
        expect(mean).toBeGreaterThanOrEqual(low * (1 - 1e-10));
        expect(mean).toBeLessThanOrEqual(high * (1 + 1e-10));
        expect(meanThermalFactor(rate, b, a)).toBe(mean);
      }),
    );
  });

  it('is the mean of its two halves', () => {
    fc.assert(
      fc.property(rates, temperature, temperature, (rate, a, b) => {
        const middle = (a + b) / 2;
        const halves = (meanThermalFactor(rate, a, middle) + meanThermalFactor(rate, middle, b)) / 2;
        const whole = meanThermalFactor(rate, a, b);
        expect(Math.abs(halves - whole)).toBeLessThanOrEqual(3e-11 * whole);
      }),
    );
  });

  it('is the factor itself on a level line, and nought below the zero of the law', () => {
    const rate = freezing(17.44);
    expect(meanThermalFactor(rate, 37, 37)).toBe(1);
    expect(meanThermalFactor(rate, -40, -20)).toBe(0);
    expect(meanThermalFactor(rate, -14.6, -14.6)).toBe(0);
  });

  it('rises with temperature', () => {
    fc.assert(
      fc.property(rates, temperature, temperature, fc.integer({ min: 1, max: 50 }), (rate, a, b, warmer) => {
        expect(meanThermalFactor(rate, a + warmer, b + warmer)).toBeGreaterThanOrEqual(
          meanThermalFactor(rate, a, b),
        );
      }),
    );
  });
});
