import fc from 'fast-check';
import { describe, expect, expectTypeOf, it } from 'vitest';
import {
  type Celsius,
  type CelsiusDifference,
  celsius,
  celsiusDifference,
  celsiusDifferenceToFahrenheit,
  celsiusToFahrenheit,
  celsiusToKelvin,
  checkedCelsius,
  difference,
  epochMillis,
  equivalentHours,
  fahrenheitToCelsius,
  fraction,
  kelvin,
  kelvinToCelsius,
  seconds,
  strain,
  warmer,
} from './units.ts';

describe('Units', () => {
  it('keep a temperature and a temperature difference apart, and either from a bare number', () => {
    expectTypeOf<Celsius>().not.toExtend<CelsiusDifference>();
    expectTypeOf<CelsiusDifference>().not.toExtend<Celsius>();
    expectTypeOf<number>().not.toExtend<Celsius>();
    expectTypeOf(difference(celsius(30), celsius(20))).toEqualTypeOf<CelsiusDifference>();
    expectTypeOf(warmer(celsius(30), celsiusDifference(2))).toEqualTypeOf<Celsius>();
    expect(warmer(celsius(30), difference(celsius(45), celsius(40)))).toBe(35);
  });

  it('cost nothing: a branded value is the number itself', () => {
    expect([celsius(21.5), seconds(3), epochMillis(0), strain(0.001)]).toEqual([21.5, 3, 0, 0.001]);
  });

  it.each([
    [-273.15, 0],
    [0, 273.15],
    [100, 373.15],
  ])('turn %d °C into %d K and back', (inCelsius, inKelvin) => {
    expect(celsiusToKelvin(celsius(inCelsius))).toBeCloseTo(inKelvin, 10);
    expect(kelvinToCelsius(kelvin(inKelvin))).toBeCloseTo(inCelsius, 10);
  });

  it.each([
    [-40, -40],
    [0, 32],
    [37, 98.6],
    [100, 212],
  ])('turn %d °C into %d °F and back', (inCelsius, inFahrenheit) => {
    expect(celsiusToFahrenheit(celsius(inCelsius))).toBeCloseTo(inFahrenheit, 10);
    expect(fahrenheitToCelsius(inFahrenheit)).toBeCloseTo(inCelsius, 10);
  });

  it('turn a difference of 5 °C into 9 °F, without the offset', () => {
    expect(celsiusDifferenceToFahrenheit(celsiusDifference(5))).toBe(9);
  });

  it('come back from kelvin and Fahrenheit as they went', () => {
    fc.assert(
      fc.property(fc.double({ min: -200, max: 400, noNaN: true }), (value) => {
        expect(kelvinToCelsius(celsiusToKelvin(celsius(value)))).toBeCloseTo(value, 9);
        expect(fahrenheitToCelsius(celsiusToFahrenheit(celsius(value)))).toBeCloseTo(value, 9);
      }),
    );
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

  it('answer a reading from outside with a value or a reason, never with NaN', () => {
    expect(checkedCelsius(21)).toEqual({ ok: true, value: 21 });
    for (const wrong of [Number.NaN, Number.NEGATIVE_INFINITY, -300]) {
      const result = checkedCelsius(wrong);
      expect(!result.ok && [result.problem.code, result.problem.offending]).toEqual([
        'not-a-temperature',
        String(wrong),
      ]);
    }
  });
});
