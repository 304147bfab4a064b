import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { celsius } from '../units.ts';
import {
  betaCelsius,
  betaOhms,
  type SteinhartHart,
  steinhartHartFrom,
  thermistorCelsius,
  thermistorOhms,
} from './thermistor.ts';

const TEN_K: SteinhartHart = { a: 1.129148e-3, b: 2.34125e-4, c: 8.76741e-8 };
const temperature = fc.double({ min: -50, max: 200, noNaN: true });

describe('thermistor', () => {
  it('gives back the temperature that made the resistance, by either equation', () => {
    fc.assert(
      fc.property(temperature, (t) => {
        const ohms = thermistorOhms(TEN_K, celsius(t));
        const back = ohms.ok ? thermistorCelsius(TEN_K, ohms.value) : ohms;
        const beta = betaOhms({ r25: 10_000, beta: 3950 }, celsius(t));
        const again = beta.ok ? betaCelsius({ r25: 10_000, beta: 3950 }, beta.value) : beta;
        return back.ok && again.ok && Math.abs(back.value - t) < 1e-8 && Math.abs(again.value - t) < 1e-8;
      }),
    );
  });

  it('takes a negative third coefficient as long as the curve turns outside the range in use', () => {
    const bent: SteinhartHart = { a: 8.5e-4, b: 2.75e-4, c: -4e-8 };
    fc.assert(
      fc.property(fc.double({ min: 0, max: 130, noNaN: true }), (t) => {
        const ohms = thermistorOhms(bent, celsius(t));
        const warmer = thermistorOhms(bent, celsius(t + 1));
        const back = ohms.ok ? thermistorCelsius(bent, ohms.value) : ohms;
        return (
          ohms.ok && warmer.ok && warmer.value < ohms.value && back.ok && Math.abs(back.value - t) < 1e-8
        );
      }),
    );
    // The slope b + 3 c (ln R)² is nought at ln R = 9.1: 9 kΩ, about 25 °C on this curve.
    const turned = thermistorCelsius({ a: 4e-4, b: 4.5e-4, c: -1.8e-6 }, 10_000);
    expect(turned.ok ? null : turned.problem.code).toBe('bad-thermistor-coefficients');
  });

  it('equals the beta equation when the cubic term is nought', () => {
    const [r25, beta] = [10_000, 3950];
    const twoTerms = { a: 1 / 298.15 - Math.log(r25) / beta, b: 1 / beta, c: 0 };
    const [first, byBeta] = [thermistorCelsius(twoTerms, 3000), betaCelsius({ r25, beta }, 3000)];
    expect(first.ok && byBeta.ok && Math.abs(first.value - byBeta.value) < 1e-9).toBe(true);
    const ohms = thermistorOhms(twoTerms, celsius(60));
    expect(ohms.ok ? ohms.value : 0).toBeCloseTo(10_000 * Math.exp(3950 * (1 / 333.15 - 1 / 298.15)), 6);
  });

  it('returns the coefficients from any three well-spread points of a curve', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: -40, max: 10 }),
        fc.integer({ min: 20, max: 60 }),
        fc.integer({ min: 80, max: 150 }),
        (...temperatures) => {
          const [first, second, third] = temperatures.map((t) => {
            const ohms = thermistorOhms(TEN_K, celsius(t));
            return { celsius: celsius(t), ohms: ohms.ok ? ohms.value : 0 };
          });
          if (first === undefined || second === undefined || third === undefined) return false;
          const fit = steinhartHartFrom([first, third, second]);
          return (
            fit.ok && Math.abs(fit.value.b / TEN_K.b - 1) < 1e-6 && Math.abs(fit.value.c / TEN_K.c - 1) < 1e-4
          );
        },
      ),
    );
  });

  it.each([0, -1, Number.NaN, Infinity])('makes no temperature of %d Ω', (ohms) => {
    expect(thermistorCelsius(TEN_K, ohms).ok).toBe(false);
    expect(betaCelsius({ r25: 10_000, beta: 3950 }, ohms).ok).toBe(false);
  });

  it('refuses coefficients and points under which resistance would rise with temperature', () => {
    expect(thermistorCelsius({ ...TEN_K, b: -1e-4 }, 10_000).ok).toBe(false);
    expect(thermistorOhms({ ...TEN_K, c: Number.NaN }, celsius(20)).ok).toBe(false);
    expect(betaOhms({ r25: 10_000, beta: -1 }, celsius(20)).ok).toBe(false);
    const rising = [0, 25, 50].map((t) => ({ celsius: celsius(t), ohms: 1000 + t }));
    const [first, second, third] = rising;
    if (first === undefined || second === undefined || third === undefined) throw new Error('three points');
    const result = steinhartHartFrom([first, second, third]);
    expect(result.ok ? null : result.problem.code).toBe('bad-thermistor-points');
    const nought = steinhartHartFrom([{ ...first, ohms: 0 }, second, third]);
    expect(nought.ok ? null : nought.problem.code).toBe('not-a-resistance');
    const nowhere = steinhartHartFrom([{ ...first, celsius: Number.NaN as never }, second, third]);
    expect(nowhere.ok ? null : nowhere.problem.code).toBe('not-a-temperature');
  });
});
