import { describe, expect, expectTypeOf, it } from 'vitest';
import {
  type Celsius,
  type CelsiusDifference,
  celsius,
  celsiusDifference,
  celsiusDifferenceToFahrenheit,
  celsiusToFahrenheit,
  epochMillis,
  equivalentHours,
  fraction,
  kelvin,
  seconds,
  strain,
} from './units.ts';

describe('Units', () => {
  it('keep a temperature and a temperature difference apart, and either from a bare number', () => {
    expectTypeOf<Celsius>().not.toExtend<CelsiusDifference>();
    expectTypeOf<CelsiusDifference>().not.toExtend<Celsius>();
    expectTypeOf<number>().not.toExtend<Celsius>();
  });

  it('cost nothing: a branded value is the number itself', () => {
    expect([celsius(21.5), seconds(3), epochMillis(0), strain(0.001)]).toEqual([21.5, 3, 0, 0.001]);
  });

  it.each([
    [-40, -40],
    [0, 32],
    [37, 98.6],
    [100, 212],
  ])('turn %d °C into %d °F', (inCelsius, inFahrenheit) => {
    expect(celsiusToFahrenheit(celsius(inCelsius))).toBeCloseTo(inFahrenheit, 10);
  });

  it('turn a difference of 5 °C into 9 °F, without the offset', () => {
    expect(celsiusDifferenceToFahrenheit(celsiusDifference(5))).toBe(9);
  });

  it.each([
    ['NaN', () => celsius(Number.NaN)],
    ['infinity', () => seconds(Number.POSITIVE_INFINITY)],
    ['a temperature below absolute zero', () => celsius(-273.16)],
    ['a kelvin below nought', () => kelvin(-0.1)],
    ['a dose below nought', () => equivalentHours(-1)],
    ['a fraction above one', () => fraction(1.01)],
    ['an instant beyond what a date can hold', () => epochMillis(8.65e15)],
  ])('refuse %s as a mistake of ours', (_, make) => {
    expect(make).toThrow(RangeError);
  });
});
