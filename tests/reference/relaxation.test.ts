// Shift factors and stretched exponential against tables computed in double precision from the formulas of Arrhenius
// and of Kohlrausch, Williams and Watts.

import { gaussQuadrature } from 'flo-gauss-quadrature';
import { describe, expect, it } from 'vitest';
import { relaxationAdvance, relaxationStart, runningRelaxation } from '../../wax/relaxation/reduced-time.ts';
import { releasedShare } from '../../wax/relaxation/stretched-exponential.ts';
import { arrheniusRate, thermalFactor } from '../../wax/heat/thermal-rate.ts';
import { celsius, epochMillis, joulesPerMole, MILLIS_PER_HOUR, seconds } from '../../wax/units.ts';

describe('The shift factor', () => {
  it.each([
    [5, 18.184],
    [15, 4.055],
    [20, 1.99],
    [25, 1],
    [30, 0.5141],
    [37, 0.20997],
  ])('of Arrhenius with 100 kJ/mol about 25 °C is right at %d °C', (temperature, shift) => {
    const rate = arrheniusRate(joulesPerMole(100e3), celsius(25));
    expect(Math.abs(1 / thermalFactor(rate, temperature) / shift - 1)).toBeLessThan(3e-4);
  });
});

describe('The released share of a stretched exponential', () => {
  it.each([
    [0.01, [0.22212, 0.09516, 0.03903, 0.00995]],
    [0.1, [0.39419, 0.27111, 0.18088, 0.09516]],
    [0.5, [0.55614, 0.50693, 0.45967, 0.39347]],
    [1, [0.63212, 0.63212, 0.63212, 0.63212]],
    [2, [0.70804, 0.75688, 0.80299, 0.86466]],
    [10, [0.86402, 0.95767, 0.99334, 0.99995]],
  ])('after %d time constants is right to five digits for exponents 0.3, 0.5, 0.7 and 1', (ratio, shares) => {
    [0.3, 0.5, 0.7, 1].forEach((beta, index) => {
      const share = releasedShare(ratio, beta);
      expect(share).toBeCloseTo(shares[index] ?? Number.NaN, 5);
    });
  });
});

it('The reduced time of a night at two activation energies is what a general Gauss quadrature finds', () => {
  const hourly = [23, 22.4, 21.1, 19.7, 18.2, 17.9, 20.5, 24.8, 25.1];
  for (const rate of [
    arrheniusRate(joulesPerMole(100e3), celsius(25)),
    arrheniusRate(joulesPerMole(60e3), celsius(37)),
  ]) {
    const state = runningRelaxation(relaxationStart(epochMillis(0)));
    let reduced = 0;
    hourly.forEach((value, hour) => {
      relaxationAdvance(
        state,
        { at: epochMillis(hour * MILLIS_PER_HOUR), celsius: celsius(value) },
        { rate, longestGap: seconds(3600) },
      );
      if (hour === 0) return;
      const from = hourly[hour - 1] ?? Number.NaN;
      reduced += gaussQuadrature((x) => 3600 * thermalFactor(rate, from + (value - from) * x), [0, 1], 64);
    });
    expect(Math.abs(state.reducedSeconds / reduced - 1)).toBeLessThan(1e-9);
    expect(state.gapSeconds).toBe(0);
  }
});
