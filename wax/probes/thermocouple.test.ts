import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { celsius } from '../units.ts';
import { type ThermocoupleType, thermocoupleCelsius, thermocoupleMillivolts } from './thermocouple.ts';

describe('thermocouple', () => {
  it('gives back the hot junction whatever the cold one', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -270, max: 400, noNaN: true }),
        fc.double({ min: -20, max: 60, noNaN: true }),
        fc.constantFrom<ThermocoupleType>('K', 'T'),
        (hot, cold, type) => {
          const millivolts = thermocoupleMillivolts(type, celsius(hot), celsius(cold));
          const back = millivolts.ok
            ? thermocoupleCelsius(type, millivolts.value, celsius(cold))
            : millivolts;
          return back.ok && Math.abs(back.value - hot) < 1e-6;
        },
      ),
    );
  });

  it('reads 1300 °C on a type K, far above any wax', () => {
    const millivolts = thermocoupleMillivolts('K', celsius(1300));
    const back = thermocoupleCelsius('K', millivolts.ok ? millivolts.value : 0, celsius(0));
    expect(back.ok ? back.value : null).toBeCloseTo(1300, 6);
  });

  it.each([
    ['K', -6.458, -270],
    ['K', 54.886, 1372],
    ['T', -6.258, -270],
    ['T', 20.872, 400],
  ] as const)('of type %s reads the end of its table back: %d mV is %d °C', (type, millivolts, end) => {
    const back = thermocoupleCelsius(type, millivolts, celsius(0));
    expect(back.ok ? Math.abs(back.value - end) : back.problem.code).toBeLessThan(0.02);
    const beyond = thermocoupleCelsius(type, millivolts * 1.001, celsius(0));
    expect(beyond.ok ? null : beyond.problem.code).toBe('outside-probe-range');
  });

  it('rises with temperature without a step at 0 °C', () => {
    for (const type of ['K', 'T'] as const) {
      const [below, above] = [-1e-6, 1e-6].map((t) => thermocoupleMillivolts(type, celsius(t)));
      expect(below?.ok && above?.ok && Math.abs(above.value - below.value) < 1e-6).toBe(true);
    }
  });

  it.each([Number.NaN, Infinity, 90, -9])('makes no temperature of %d mV', (millivolts) => {
    const result = thermocoupleCelsius('T', millivolts, celsius(25));
    expect(result.ok ? null : result.problem.code).toBe('outside-probe-range');
  });

  it('refuses a cold junction that is no temperature', () => {
    expect(thermocoupleCelsius('K', 1, Number.NaN as never).ok).toBe(false);
    expect(thermocoupleMillivolts('K', celsius(20), Number.NaN as never).ok).toBe(false);
  });
});
