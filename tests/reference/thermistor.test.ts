// Steinhart-Hart sets with points of their tables: (1) the three-point set widely used to check calculators (5, 25 and
// 45 °C); (2) the 10 kΩ curve of a maker's module sheet; (3) a maker's resistance table, 0 to 50 °C.
import { describe, expect, it } from 'vitest';
import { steinhartHartFrom, thermistorCelsius } from '../../wax/probes/thermistor.ts';
import { celsius } from '../../wax/units.ts';

const read = (set: { a: number; b: number; c: number }, ohms: number) => {
  const result = thermistorCelsius(set, ohms);
  return result.ok ? result.value : Number.NaN;
};
const point = (t: number, ohms: number) => ({ celsius: celsius(t), ohms });

describe('Steinhart-Hart', () => {
  const first = { a: 2.108508173e-3, b: 0.7979204727e-4, c: 6.535076315e-7 };
  it.each([
    [25_000, 5],
    [10_000, 25],
    [4000, 45],
    [15_000, 16.1336],
    [6000, 36.1674],
  ])('set 1: %d Ω is %d °C', (ohms, t) => {
    expect(Math.abs(read(first, ohms) - t)).toBeLessThan(1e-4);
  });

  it('set 1: three points return the coefficients', () => {
    const fit = steinhartHartFrom([point(5, 25_000), point(25, 10_000), point(45, 4000)]);
    expect(fit.ok).toBe(true);
    if (!fit.ok) return;
    expect(Math.abs(fit.value.a / first.a - 1)).toBeLessThan(1e-6);
    expect(Math.abs(fit.value.b / first.b - 1)).toBeLessThan(1e-6);
    expect(Math.abs(fit.value.c / first.c - 1)).toBeLessThan(1e-6);
  });

  const second = { a: 1.129148e-3, b: 2.34125e-4, c: 8.76741e-8 };
  it.each([
    [32_650, 0],
    [19_900, 10.003],
    [10_000, 25],
    [3602, 49.993],
    [1255, 80.026],
    [680, 99.921],
  ])('set 2: %d Ω is %d °C', (ohms, t) => {
    expect(Math.abs(read(second, ohms) - t)).toBeLessThan(1e-3);
  });

  it('set 3: a fit on 10, 25 and 50 °C reproduces the rest of the table to 0.002 K, rounded', () => {
    const fit = steinhartHartFrom([point(10, 19_549), point(25, 9814), point(50, 3542)]);
    expect(fit.ok).toBe(true);
    if (!fit.ok) return;
    expect(Math.abs(fit.value.a / 1.10422913e-3 - 1)).toBeLessThan(1e-7);
    expect(Math.abs(fit.value.b / 2.38905796e-4 - 1)).toBeLessThan(1e-7);
    expect(Math.abs(fit.value.c / 6.93699346e-8 - 1)).toBeLessThan(1e-6);
    for (const [ohms, t] of [
      [32_128, 0],
      [12_262, 20],
      [7908, 30],
    ] as const)
      expect(Math.abs(read(fit.value, ohms) - t)).toBeLessThan(0.0025);
  });
});
