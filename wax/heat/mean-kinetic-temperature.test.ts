import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  meanKineticTemperature,
  meanKineticTemperatureOfSeries,
  mktStart,
  mktStep,
  mktValue,
} from './mean-kinetic-temperature.ts';
import { celsius, epochMillis, seconds } from '../units.ts';

const weighted = fc.array(
  fc.record({
    celsius: fc.double({ min: -40, max: 120, noNaN: true }),
    weight: fc.double({ min: 0.01, max: 100, noNaN: true }),
  }),
  { minLength: 1, maxLength: 30 },
);

describe('The mean kinetic temperature', () => {
  it('lies between the mean and the highest temperature', () => {
    fc.assert(
      fc.property(weighted, (values) => {
        const result = meanKineticTemperature(values);
        const weights = values.reduce((sum, { weight }) => sum + weight, 0);
        const mean = values.reduce((sum, value) => sum + value.celsius * value.weight, 0) / weights;
        if (!result.ok) throw new Error(result.problem.code);
        expect(result.value).toBeGreaterThanOrEqual(mean - 1e-8);
        expect(result.value).toBeLessThanOrEqual(Math.max(...values.map((value) => value.celsius)) + 1e-8);
      }),
    );
  });

  it('of a stream lies between the time-weighted mean and the highest reading', () => {
    fc.assert(
      fc.property(weighted, (values) => {
        fc.pre(values.length > 1);
        let at = 0;
        let area = 0;
        const series = values.map((value, index) => {
          const elapsed = index === 0 ? 0 : Math.ceil(value.weight * 1000);
          at += elapsed;
          area += (elapsed * (value.celsius + (values[index - 1]?.celsius ?? 0))) / 2;
          return { at, celsius: value.celsius };
        });
        const result = meanKineticTemperatureOfSeries(series, { longestGap: seconds(1000) });
        if (!result.ok) throw new Error(result.problem.code);
        expect(result.value.celsius).toBeGreaterThanOrEqual(area / at - 1e-8);
        expect(result.value.celsius).toBeLessThanOrEqual(
          Math.max(...values.map((value) => value.celsius)) + 1e-8,
        );
      }),
    );
  });

  it('weighs by time: a reading that holds longer counts for more', () => {
    const result = meanKineticTemperatureOfSeries(
      [
        { at: 0, celsius: 20 },
        { at: 23 * 3_600_000, celsius: 20 },
        { at: 23 * 3_600_000 + 1, celsius: 40 },
        { at: 24 * 3_600_000, celsius: 40 },
      ],
      { longestGap: seconds(100_000) },
    );
    expect(result.ok && result.value.celsius).toBeCloseTo(22.4479, 3);
  });

  it('leaves gaps out and reports them', () => {
    const result = meanKineticTemperatureOfSeries(
      [
        { at: 0, celsius: 20 },
        { at: 60_000, celsius: 20 },
        { at: 7_200_000, celsius: 90 },
        { at: 7_260_000, celsius: 90 },
      ],
      { longestGap: seconds(600) },
    );
    expect(result.ok && result.value.gapSeconds).toBe(7140);
    expect(result.ok && result.value.seconds).toBe(120);
    expect(result.ok && result.value.celsius).toBeGreaterThan(80);
  });

  it('is unknown before any time is measured, never a number', () => {
    const state = mktStep(mktStart({ longestGap: seconds(600) }), epochMillis(0), celsius(20));
    expect(mktValue(state)).toBeNull();
  });

  it.each([
    ['no values', [], 'series-empty'],
    ['only weights of nought', [{ celsius: 20, weight: 0 }], 'series-empty'],
    ['a negative weight', [{ celsius: 20, weight: -1 }], 'negative-duration'],
    ['a weight that is no number', [{ celsius: 20, weight: Number.NaN }], 'negative-duration'],
    ['a value that is no number', [{ celsius: Number.NaN }], 'not-a-temperature'],
    ['a value below absolute zero', [{ celsius: -300 }], 'not-a-temperature'],
  ])('refuses %s with its reason', (_, values, code) => {
    const result = meanKineticTemperature(values);
    expect(!result.ok && result.problem.code).toBe(code);
  });

  it('refuses a series without two readings close enough together', () => {
    const result = meanKineticTemperatureOfSeries([{ at: 0, celsius: 20 }], { longestGap: seconds(600) });
    expect(!result.ok && result.problem.code).toBe('series-empty');
  });
});
