// IEC 60751:2022: R = R0 (1 + At + Bt² + C(t-100)t³), A 3.9083e-3, B -5.775e-7, C -4.183e-12 (C only below 0 °C).
// Table values printed to 0.01 Ω: 138.51 Ω at 100 °C, 18.52 Ω at -200 °C (published table; its others from memory). The rows
// to four decimals were computed from the formula in double precision by another program (Python).
import { describe, expect, it } from 'vitest';
import { checkPlatinum, platinumCelsius, platinumOhms } from '../../wax/probes/platinum.ts';
import { toleranceOf } from '../../wax/probes/tolerance-class.ts';
import { celsius } from '../../wax/units.ts';

const ROWS: readonly (readonly [celsius: number, ohms: number])[] = [
  [-40, 84.2707],
  [-20, 92.1599],
  [-10, 96.0859],
  [0, 100],
  [10, 103.9025],
  [20, 107.7935],
  [25, 109.7347],
  [30, 111.6729],
  [37, 114.3817],
  [40, 115.5408],
  [45, 117.4704],
  [50, 119.3971],
  [60, 123.2419],
  [70, 127.0751],
  [80, 130.8968],
  [90, 134.7069],
  [100, 138.5055],
  [120, 146.068],
  [150, 157.3251],
  [200, 175.856],
];

describe('IEC 60751', () => {
  it.each(ROWS)('a Pt100 at %d °C has %d Ω', (t, ohms) => {
    const made = platinumOhms('pt100', celsius(t));
    expect(made.ok ? Math.abs(made.value - ohms) : made.problem).toBeLessThan(6e-5);
  });

  it.each(ROWS)('%d °C is read back within 0.005 K from %d Ω', (t, ohms) => {
    for (const [kind, factor] of [['pt100', 1] as const, ['pt1000', 10] as const]) {
      const read = platinumCelsius(kind, ohms * factor);
      expect(read.ok ? Math.abs(read.value - t) : read.problem).toBeLessThan(0.005);
    }
  });

  it.each([
    [100, 138.51],
    [-200, 18.52],
    [-100, 60.26],
    [300, 212.05],
    [500, 280.98],
    [850, 390.48],
  ])('prints as in the table of the standard at %d °C: %d Ω', (t, printed) => {
    const made = platinumOhms('pt100', celsius(t));
    expect(made.ok ? made.value.toFixed(2) : made.problem).toBe(printed.toFixed(2));
  });

  it('refuses the superseded coefficients of before ITS-90', () => {
    const result = checkPlatinum({ a: 3.90802e-3, b: -5.802e-7, c: -4.2735e-12 });
    expect(result.ok ? null : result.problem.code).toBe('superseded-platinum-curve');
  });

  it('follows the table in force down to -200 °C, 0.03 Ω from where the superseded curve ends', () => {
    const old = 100 * (1 + 3.90802e-3 * -200 - 5.802e-7 * 200 ** 2 - 4.2735e-12 * 300 * 200 ** 3);
    expect(old.toFixed(2)).toBe('18.49');
    const read = platinumCelsius('pt100', 18.52);
    // Printed to 0.01 Ω, which is 0.012 K there.
    expect(read.ok ? Math.abs(read.value + 200) : read.problem).toBeLessThan(0.012);
    const exact = platinumOhms('pt100', celsius(-200));
    const back = platinumCelsius('pt100', exact.ok ? exact.value : Number.NaN);
    expect(back.ok ? Math.abs(back.value + 200) : back.problem).toBeLessThan(1e-9);
  });

  it.each([
    ['rounded as it circulates', { a: 3.908e-3, b: -5.802e-7, c: -4.27e-12 }, 'superseded-platinum-curve'],
    [
      'of the standard in force, but for its sign',
      { a: 3.9083e-3, b: 5.775e-7, c: -4.183e-12 },
      'unknown-platinum-curve',
    ],
    ['of another alloy', { a: 3.9692e-3, b: -5.8495e-7, c: -4.2325e-12 }, 'unknown-platinum-curve'],
  ])('refuses coefficients %s', (_, coefficients, code) => {
    const result = checkPlatinum(coefficients);
    expect(result.ok ? null : result.problem.code).toBe(code);
  });

  it('takes the coefficients in force', () => {
    expect(checkPlatinum({ a: 3.9083e-3, b: -5.775e-7, c: -4.183e-12 }).ok).toBe(true);
  });

  // Tolerances at 70 °C by IEC 60751 (classes from memory).
  it.each([
    ['platinum-AA', 0.219],
    ['platinum-A', 0.29],
    ['platinum-B', 0.65],
    ['platinum-C', 1.3],
  ] as const)('class %s allows ± %d K at 70 °C', (kind, kelvins) => {
    const result = toleranceOf(kind, celsius(70));
    expect(result.ok ? result.value : result.problem).toBeCloseTo(kelvins, 9);
  });
});
