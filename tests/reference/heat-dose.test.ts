// The dose against tables of the factor, against SciPy, and against a general quadrature.

import fc from 'fast-check';
import { gaussQuadrature } from 'flo-gauss-quadrature';
import { describe, expect, it } from 'vitest';
import { doseOfRamp, evaporationRatio, heatDose } from '../../wax/heat/heat-dose.ts';
import { arrheniusRate, meanThermalFactor, thermalFactor } from '../../wax/heat/thermal-rate.ts';
import { celsius, joulesPerMole, MILLIS_PER_MINUTE, seconds } from '../../wax/units.ts';

describe('The Arrhenius factor against 70 °C', () => {
  // Computed in double precision from exp(E/R (1/Tref - 1/T)) with R = 8.31446261815324 J/(mol K), CODATA 2018.
  it.each([
    [60e3, [0.532, 1.814, 3.184, 5.423, 14.505]],
    [83_144, [0.417, 2.282, 4.978, 10.411, 40.697]],
    [100e3, [0.349, 2.698, 6.892, 16.741, 86.27]],
    [120e3, [0.283, 3.29, 10.139, 29.413, 210.4]],
  ])('of %d J/mol is the tabulated one at 60, 80, 90, 100 and 120 °C', (energy, factors) => {
    const kinetics = { activationEnergy: joulesPerMole(energy), reference: celsius(70) };
    [60, 80, 90, 100, 120].forEach((temperature, index) => {
      const expected = factors[index] ?? Number.NaN;
      const hours = doseOfRamp(celsius(temperature), celsius(temperature), seconds(3600), kinetics);
      expect(Math.abs(hours / expected - 1)).toBeLessThan(2e-3);
    });
  });

  it('of the evaporation of n-pentacosane (126.8 kJ/mol, Chickos and Hanshaw 2004) is the tabulated one', () => {
    const kinetics = { activationEnergy: joulesPerMole(126.8e3), reference: celsius(70) };
    for (const [temperature, ratio] of [
      [80, 3.52],
      [90, 11.56],
      [100, 35.6],
      [120, 285],
    ] as const) {
      expect(Math.abs(evaporationRatio(celsius(temperature), kinetics) / ratio - 1)).toBeLessThan(2e-3);
    }
  });

  it.each([
    [25, 35, 52.95],
    [60, 70, 65.88],
    [70, 80, 69.84],
    [80, 90, 73.91],
    [90, 100, 78.1],
    [100, 110, 82.4],
  ])('doubles from %d to %d °C at E = %d kJ/mol, that is R ln 2 T1 T2 / 10', (from, to, kilojoules) => {
    const rate = arrheniusRate(joulesPerMole(kilojoules * 1000), celsius(from));
    expect(thermalFactor(rate, to)).toBeCloseTo(2, 3);
  });
});

describe('The mean factor along a ramp', () => {
  // scipy.integrate.quad, SciPy 1.17.1, relative tolerance 1e-13; agrees with scipy.special.exp1 in closed form.
  it.each([
    [100e3, 70, 20, 95, 1.532171413536962],
    [100e3, 70, 69.5, 70.5, 1.0004099290216302],
    [83_144, 25, 15, 40, 1.7452452138733787],
    [126.8e3, 90, 25, 180, 344.1449524451925],
    [60e3, 70, 70, 71.3, 1.0408075612261003],
    [150e3, 70, 4, 120, 56.76159236117679],
  ])(
    'of %d J/mol about %d °C from %d to %d °C is that of SciPy to 1e-11',
    (energy, reference, from, to, mean) => {
      const rate = arrheniusRate(joulesPerMole(energy), celsius(reference));
      expect(Math.abs(meanThermalFactor(rate, from, to) / mean - 1)).toBeLessThan(1e-11);
      expect(meanThermalFactor(rate, to, from)).toBe(meanThermalFactor(rate, from, to));
    },
  );

  it('agrees with the quadrature for any energy and any ramp', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 500, max: 250e3, noNaN: true }),
        fc.double({ min: -40, max: 150, noNaN: true }),
        fc.double({ min: -60, max: 60, noNaN: true }),
        (energy, from, change) => {
          const rate = arrheniusRate(joulesPerMole(energy), celsius(70));
          const mean = gaussQuadrature((x) => thermalFactor(rate, from + change * x), [0, 1], 64);
          expect(Math.abs(meanThermalFactor(rate, from, from + change) / mean - 1)).toBeLessThan(2e-11);
        },
      ),
      { numRuns: 1000 },
    );
  });

  it('is the mean that a general Gauss quadrature of order 64 finds, where the two formulas meet too', () => {
    for (const energy of [20e3, 60e3, 100e3, 200e3]) {
      const rate = arrheniusRate(joulesPerMole(energy), celsius(70));
      for (const from of [-20, 20, 69, 110]) {
        for (const change of [0.01, 0.5, 1, 1.2, 1.5, 2.5, 6, 20, 70]) {
          const mean = gaussQuadrature((x) => thermalFactor(rate, from + change * x), [0, 1], 64);
          expect(Math.abs(meanThermalFactor(rate, from, from + change) / mean - 1)).toBeLessThan(1e-11);
        }
      }
    }
  });
});

it('A day in a pot has the dose that the quadrature finds for the same straight lines', () => {
  const kinetics = { activationEnergy: joulesPerMole(100e3), reference: celsius(70) };
  const corners = [22, 71, 74, 69, 73.5, 74.5, 50, 24];
  const series = corners.map((value, index) => ({ at: index * 30 * MILLIS_PER_MINUTE, celsius: value }));
  const dose = heatDose(series, { kinetics, longestGap: seconds(3600) });
  const rate = arrheniusRate(kinetics.activationEnergy, kinetics.reference);
  let hours = 0;
  for (let index = 1; index < corners.length; index += 1) {
    const [from = 0, to = 0] = corners.slice(index - 1, index + 1);
    hours += gaussQuadrature((x) => 0.5 * thermalFactor(rate, from + (to - from) * x), [0, 1], 64);
  }
  expect(dose.ok && Math.abs(dose.value.hours / hours - 1)).toBeLessThan(1e-10);
});
