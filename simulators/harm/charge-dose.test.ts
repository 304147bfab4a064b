import { describe, expect, it } from 'vitest';
import { chargeDose } from './charge-dose.ts';

const HOUR = 3_600_000;
const steady = (celsius: number) => ({
  station: 'pot',
  from: 0,
  stepMillis: 2000,
  spots: { wax: new Float32Array(2 * 1800).fill(celsius) },
});

describe('ageing of a charge', () => {
  it.each([
    [70, 1],
    // exp(100000 / 8.31446 (1 / 343.15 - 1 / 353.15)) and the same for 90 °C, worked by hand.
    [80, 2.698],
    [90, 6.888],
  ])('at %i °C for an hour is %f equivalent hours at 70 °C', (celsius, hours) => {
    expect(chargeDose(steady(celsius), 'wax', 0, HOUR) / hours).toBeCloseTo(1, 2);
  });

  it('counts from the first instant to the last requested', () => {
    expect(chargeDose(steady(70), 'wax', 0.5 * HOUR, 1.5 * HOUR)).toBeCloseTo(1, 6);
  });
});
