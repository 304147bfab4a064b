import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type PatternFacts, predictedError } from './predicted-error.ts';
import { relaxationStart, relaxationStep } from './reduced-time.ts';
import { relaxationParameters } from './relaxation-parameters.ts';
import { thermalFactor } from './thermal-rate.ts';
import { instantOfTolerance } from './tolerance-instant.ts';
import { celsius, epochMillis, MILLIS_PER_HOUR, micrometres, millimetres, seconds } from './units.ts';
import { waxClass } from './wax-class.ts';

const wax = waxClass('inlay-type-1');
const params = relaxationParameters(wax, seconds(1e12));
const pattern: PatternFacts = { technique: 'sheet', length: millimetres(10), fittedCelsius: celsius(23) };
const now = epochMillis(1_760_000_000_000);
const lying = (temperature: number, hours = 1) => {
  const made = relaxationStart(epochMillis(now - hours * MILLIS_PER_HOUR));
  return relaxationStep(made, now, celsius(temperature), params);
};
const forecast = (...points: readonly (readonly [hours: number, temperature: number])[]) =>
  points.map(([hours, value]) => ({
    at: epochMillis(now + hours * MILLIS_PER_HOUR),
    celsius: celsius(value),
  }));

describe('The instant of the tolerance', () => {
  it('at a steady temperature is where the stretched exponential says', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 15, max: 30 }),
        fc.integer({ min: 30, max: 55 }),
        (temperature, tolerance) => {
          const steady = { ...pattern, investedCelsius: celsius(23) };
          const state = lying(temperature);
          const instant = instantOfTolerance(state, steady, wax, params, micrometres(tolerance));
          const reduced = params.tau * (-Math.log1p(-tolerance / 60)) ** (1 / params.beta);
          const ahead = (reduced - state.reducedSeconds) / thermalFactor(params.rate, temperature);
          const expected = now + Math.max(0, ahead) * 1000;
          if (ahead > 3e8) expect(instant).toBeNull();
          else expect(Math.abs((instant ?? 0) - expected)).toBeLessThan(1 + ahead * 1e-6);
        },
      ),
    );
  });

  it('is when the predicted error, carried on to it, equals the tolerance', () => {
    const state = lying(24);
    const instant = instantOfTolerance(state, pattern, wax, params, micrometres(30));
    if (instant === null) throw new Error('never');
    const then = relaxationStep(state, instant, celsius(24), params);
    expect(predictedError(then, pattern, wax, params).micrometres).toBeCloseTo(30, 4);
  });

  it('is now when it is met already, and never when the frozen-in strain does not reach that far', () => {
    expect(instantOfTolerance(lying(24), pattern, wax, params, micrometres(1))).toBe(now);
    expect(instantOfTolerance(lying(23), pattern, wax, params, micrometres(61))).toBeNull();
  });

  it('comes sooner the warmer it lies', () => {
    const at = (temperature: number) =>
      instantOfTolerance(
        lying(23),
        { ...pattern, investedCelsius: celsius(23) },
        wax,
        params,
        micrometres(40),
        forecast([0.01, temperature]),
      );
    expect(at(27) ?? 0).toBeLessThan(at(25) ?? 0);
    expect(at(25) ?? 0).toBeLessThan(at(21) ?? 0);
  });

  it('along a level forecast is the same as without one', () => {
    const level = forecast([2, 24], [9, 24], [30, 24]);
    const [along, without] = [level, undefined].map(
      (course) => instantOfTolerance(lying(24), pattern, wax, params, micrometres(30), course) ?? 0,
    );
    expect(Math.abs((along ?? 0) - (without ?? 1))).toBeLessThanOrEqual(1);
  });

  it('is found on a short warm peak of the forecast, where only the thermal part reaches it', () => {
    const peak = forecast([1, 23], [1.2, 34], [1.4, 23]);
    const instant = instantOfTolerance(lying(23), pattern, wax, params, micrometres(45), peak);
    expect(instant ?? 0).toBeGreaterThan(now + 1 * MILLIS_PER_HOUR);
    expect(instant ?? 0).toBeLessThan(now + 1.4 * MILLIS_PER_HOUR);
    const cold = instantOfTolerance(
      lying(23),
      { ...pattern, investedCelsius: celsius(23) },
      wax,
      params,
      micrometres(45),
      peak,
    );
    expect(cold ?? Number.POSITIVE_INFINITY).toBeGreaterThan(now + 1.4 * MILLIS_PER_HOUR);
  });

  it('holds the last temperature of the forecast after its end', () => {
    const cooling = forecast([1, 18]);
    const instant = instantOfTolerance(
      lying(23),
      { ...pattern, investedCelsius: celsius(23) },
      wax,
      params,
      micrometres(30),
      cooling,
    );
    const steady = instantOfTolerance(
      lying(23),
      { ...pattern, investedCelsius: celsius(23) },
      wax,
      params,
      micrometres(30),
    );
    expect(instant ?? 0).toBeGreaterThan(steady ?? Number.POSITIVE_INFINITY);
  });

  it('refuses a forecast that is not in order of time', () => {
    const unsorted = forecast([2, 23], [1, 24]);
    expect(() => instantOfTolerance(lying(23), pattern, wax, params, micrometres(45), unsorted)).toThrow(
      RangeError,
    );
  });
});
