// Lumped capacitance, Incropera & DeWitt ch. 5.1 and worked example 5.1 (thermocouple bead); the thermostat times were
// computed from the closed form by another program (Python).
import { describe, expect, it } from 'vitest';
import { firstOrderForecast, firstOrderStart, firstOrderStep } from '../../wax/heat/first-order-fit.ts';
import { minutesToLimit } from '../../wax/heat/minutes-to-limit.ts';
import { thermostatTimes } from '../../wax/heat/thermostat-cycle.ts';
import { celsius, epochMillis, seconds } from '../../wax/units.ts';

describe('first-order heating', () => {
  it('cycles 130.97 s on and 160.11 s off: τ 1800 s, ambient 25 °C, heater 125 °C, band 68 to 72 °C', () => {
    const result = thermostatTimes(
      { timeConstant: seconds(1800), ambient: celsius(25), heaterOn: celsius(125) },
      celsius(68),
      celsius(72),
    );
    expect(result.ok).toBe(true);
    if (!result.ok) return;
    expect(result.value.onSeconds).toBeCloseTo(130.97, 2);
    expect(result.value.offSeconds).toBeCloseTo(160.11, 2);
    expect(result.value.periodSeconds).toBeCloseTo(291.07, 2);
    expect(result.value.duty).toBeCloseTo(0.45, 3);
  });

  it('foretells the bead of example 5.1: τ 1 s, from 25 °C in gas of 200 °C, 199 °C after 5.165 s', () => {
    let state = firstOrderStart();
    for (let millis = 0; millis <= 1000; millis += 20)
      state = firstOrderStep(state, epochMillis(millis), celsius(200 - 175 * Math.exp(-millis / 1000)), {
        noiseFloor: 0.001,
      });
    const forecast = firstOrderForecast(state);
    expect(Math.abs((forecast?.asymptote ?? 0) - 200)).toBeLessThan(0.05);
    expect(Math.abs((forecast?.timeConstant ?? 0) - 1)).toBeLessThan(0.001);
    expect(Math.abs((minutesToLimit(state, celsius(199))?.minutes ?? 0) * 60 + 1 - 5.165)).toBeLessThan(0.05);
  });

  it.each([
    [1, 0.632121],
    [2, 0.864665],
    [3, 0.950213],
    [5, 0.993262],
  ])('a heater that takes τ %d times has done %d of its way', (times, share) => {
    const result = thermostatTimes(
      { timeConstant: seconds(100), ambient: celsius(-1), heaterOn: celsius(1) },
      celsius(0),
      celsius(share),
    );
    expect(result.ok ? result.value.onSeconds : 0).toBeCloseTo(times * 100, 1);
  });
});
