// Roots and coefficients of transient conduction: Incropera & DeWitt table 5.1, Çengel table 4-2. Worked examples:
// Incropera 5.4 (pipe wall) and 5.5 (sphere), Çengel 4-3 (egg), 4-4 (brass plate), 4-5 (shaft). The books read charts or
// round roots (1 to 4 % off); the exact roots were computed in double precision by another program (Python/SciPy).
// Second opinion: J0 and J1 from Bessel's integral, summed by the trapezoidal rule.
import bessel from 'bessel';
import { describe, expect, it } from 'vitest';
import { conductionEigenvalue, conductionSeries } from '../../wax/heat/conduction-series.ts';
import { softToTheCoreAfter } from '../../wax/heat/soak.ts';
import { soakBody } from '../../wax/heat/soak-body.ts';
import { celsius, millimetres } from '../../wax/units.ts';

const TABLE: readonly (readonly [
  biot: number,
  slab: readonly [number, number],
  cylinder: readonly [number, number],
  sphere: readonly [number, number],
])[] = [
  [0.01, [0.0998, 1.0017], [0.1412, 1.0025], [0.173, 1.003]],
  [0.1, [0.3111, 1.0161], [0.4417, 1.0246], [0.5423, 1.0298]],
  [0.2, [0.4328, 1.0311], [0.617, 1.0483], [0.7593, 1.0592]],
  [0.3, [0.5218, 1.045], [0.7465, 1.0712], [0.9208, 1.088]],
  [0.5, [0.6533, 1.0701], [0.9408, 1.1143], [1.1656, 1.1441]],
  [1, [0.8603, 1.1191], [1.2558, 1.2071], [1.5708, 1.2732]],
  [2, [1.0769, 1.1785], [1.5994, 1.3384], [2.0288, 1.4793]],
  [5, [1.3138, 1.2402], [1.9898, 1.5029], [2.5704, 1.787]],
  [10, [1.4289, 1.262], [2.1795, 1.5677], [2.8363, 1.9249]],
  [100, [1.5552, 1.2731], [2.3809, 1.6015], [3.1102, 1.999]],
];

describe('transient conduction', () => {
  it.each(TABLE)('has the four figures of the table at Bi %d', (biot, ...rows) => {
    for (const [i, geometry] of (['slab', 'cylinder', 'sphere'] as const).entries()) {
      const { zeta, coefficient } = conductionEigenvalue(geometry, biot, 1);
      expect(zeta).toBeCloseTo(rows[i]?.[0] ?? 0, 4);
      expect(coefficient).toBeCloseTo(rows[i]?.[1] ?? 0, 4);
    }
  });

  it('pipe wall: 42.92 °C at the insulated side after 8 min (book), 43.02 by the exact root; surface 45.36', () => {
    const [biot, fourier] = [(500 * 0.04) / 63.9, (18.8e-6 * 480) / 0.04 ** 2];
    const at = (place: number) => 60 - 80 * conductionSeries('slab', biot, place)(fourier);
    expect(Math.abs(at(0) - 42.92)).toBeLessThan(0.15);
    expect(at(0)).toBeCloseTo(43.02, 2);
    expect(at(1)).toBeCloseTo(45.36, 2);
    expect(-500 * (60 - at(1))).toBeCloseTo(-7318, -1);
  });

  it('brass plate: 282 °C by chart after 7 min, 279.6 by the exact root', () => {
    const surface = 500 - 480 * conductionSeries('slab', (120 * 0.02) / 110, 1)((33.9e-6 * 420) / 0.02 ** 2);
    expect(Math.abs(surface / 282 - 1)).toBeLessThan(0.01);
    expect(surface).toBeCloseTo(279.6, 1);
  });

  it('shaft: 360 °C by chart at the centre after 45 min, 364.3 by the exact root; 0.636 of the heat is gone', () => {
    const [biot, fourier] = [(80 * 0.1) / 14.9, (3.95e-6 * 2700) / 0.1 ** 2];
    const centre = 200 + 400 * conductionSeries('cylinder', biot, 0)(fourier);
    expect(Math.abs(centre / 360 - 1)).toBeLessThan(0.015);
    expect(centre).toBeCloseTo(364.3, 1);
    expect(1 - conductionSeries('cylinder', biot, 'mean')(fourier)).toBeCloseTo(0.636, 3);
  });

  it('egg: 865 s to 70 °C (book, rounded), 862.6 s by the exact root and one term; the full series gives 0.06 K more', () => {
    const biot = (1200 * 0.025) / 0.627;
    const fourier = (seconds: number) => (0.151e-6 * seconds) / 0.025 ** 2;
    const { zeta, coefficient } = conductionEigenvalue('sphere', biot, 1);
    expect(zeta).toBeCloseTo(3.076, 3);
    expect(95 - 90 * coefficient * Math.exp(-(zeta ** 2) * fourier(862.6))).toBeCloseTo(70, 2);
    const centre = 95 - 90 * conductionSeries('sphere', biot, 0)(fourier(865));
    expect(Math.abs(centre - 70)).toBeLessThan(0.2);
  });

  it('quenched sphere: 50 °C at the centre after 3.1 s (table root), 2.98 s by the exact root', () => {
    const theta = conductionSeries('sphere', (6000 * 0.005) / 20, 0);
    const centre = (seconds: number) => 20 + 315 * theta((6.66e-6 * seconds) / 0.005 ** 2);
    expect(centre(2.98)).toBeCloseTo(50, 0);
    expect(Math.abs(centre(2.98) - 50)).toBeLessThan(0.3);
    expect(centre(3.1)).toBeGreaterThan(46);
  });

  it('sphere in air before the quench: 335 °C after 93.7 s (book), 93.9 s with k / α', () => {
    const theta = conductionSeries('sphere', (10 * 0.005) / 20, 'mean');
    const mean = (seconds: number) => 20 + 380 * theta((6.66e-6 * seconds) / 0.005 ** 2);
    expect(Math.abs(mean(93.89) - 335)).toBeLessThan(0.1);
    expect(Math.abs(mean(93.7) - 335)).toBeLessThan(0.3);
  });

  it('thermocouple bead of 7.06e-4 m (Incropera 5.1): a time constant of 1 s, 199 °C in gas of 200 °C after 5.2 s', () => {
    const radius = 7.06e-4 / 2;
    const theta = conductionSeries('sphere', (400 * radius) / 20, 'mean');
    const share = (seconds: number) => theta((20 / (8500 * 400)) * (seconds / radius ** 2));
    expect(Math.abs(share(1) / Math.exp(-1) - 1)).toBeLessThan(0.005);
    // The book takes the bead as one lump; its own gradient makes it later by a part in a thousand.
    expect(Math.abs(200 - 175 * share(5.2) - 199)).toBeLessThan(0.05);
  });

  // Time for the axis of a wax stick to complete 95 % of the step (k 0.25, ρ 900, c 2500).
  it.each([
    [6, 1052, 445.5, 78.4],
    [10, 1799, 789, 183],
    [20, 3828, 1817, 633],
  ])(
    'a wax stick of %d mm is through after %d s in still air, %d s with a fan, %d s in water',
    (diameter, ...times) => {
      for (const [i, surroundings] of (['still-air', 'fan-air', 'water-bath'] as const).entries()) {
        const body = soakBody(
          { kind: 'stick', diameter: millimetres(diameter) },
          { conductivity: 0.25, density: 900, heatCapacity: 2500 },
          surroundings,
        );
        const after = body.ok ? softToTheCoreAfter(body.value, celsius(0), celsius(100), celsius(95)) : body;
        expect(after.ok && Math.abs(after.value / (times[i] ?? 0) - 1)).toBeLessThan(0.001);
      }
    },
  );

  it('rests on Bessel functions that agree with their integral to 2e-8', () => {
    const integral = (x: number, order: number): number => {
      let sum = 0;
      for (let i = 0; i < 2000; i++) {
        const angle = ((i + 0.5) / 2000) * Math.PI;
        sum += Math.cos(order * angle - x * Math.sin(angle));
      }
      return sum / 2000;
    };
    for (let x = 0.01; x < 400; x += 1.37)
      for (const order of [0, 1])
        expect(Math.abs(bessel.besselj(x, order) - integral(x, order))).toBeLessThan(2e-8);
  });
});
