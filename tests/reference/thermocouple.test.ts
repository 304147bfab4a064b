// NIST ITS-90 Thermocouple Database (Monograph 175). The rows were computed from the published coefficients in double
// precision by another program (Python); NIST prints them to 0.001 mV (K 100 °C 4.096, K 200 °C 8.138, T 100 °C 4.279).
import { describe, expect, it } from 'vitest';
import { thermocoupleCelsius, thermocoupleMillivolts } from '../../wax/probes/thermocouple.ts';
import { celsius } from '../../wax/units.ts';

const ROWS: readonly (readonly [celsius: number, k: number, t: number])[] = [
  [-20, -0.7775, -0.7568],
  [-10, -0.3919, -0.3831],
  [0, 0, 0],
  [10, 0.3969, 0.391],
  [20, 0.7981, 0.7896],
  [25, 1.0002, 0.992],
  [37, 1.4889, 1.4863],
  [40, 1.6118, 1.6118],
  [50, 2.0231, 2.0357],
  [60, 2.4365, 2.4682],
  [70, 2.8512, 2.9089],
  [80, 3.2666, 3.3577],
  [90, 3.6819, 3.8143],
  [100, 4.0962, 4.2785],
  [120, 4.9199, 5.2284],
  [150, 6.1383, 6.7041],
  [200, 8.1385, 9.2881],
];

describe('NIST ITS-90 thermocouples', () => {
  it.each(ROWS)('at %d °C type K gives %d mV and type T %d mV', (t, k, typeT) => {
    for (const [type, expected] of [['K', k] as const, ['T', typeT] as const]) {
      const made = thermocoupleMillivolts(type, celsius(t));
      expect(made.ok ? Math.abs(made.value - expected) : made.problem).toBeLessThan(6e-5);
    }
  });

  it.each(ROWS)('%d °C is read back within 0.01 K from %d mV (K) and %d mV (T)', (t, k, typeT) => {
    for (const [type, millivolts] of [['K', k] as const, ['T', typeT] as const]) {
      const read = thermocoupleCelsius(type, millivolts, celsius(0));
      expect(read.ok ? Math.abs(read.value - t) : read.problem).toBeLessThan(0.01);
    }
  });

  it('prints as NIST does at 100 and 200 °C', () => {
    const printed = (type: 'K' | 'T', t: number) => {
      const made = thermocoupleMillivolts(type, celsius(t));
      return made.ok ? made.value.toFixed(3) : made.problem.code;
    };
    expect([printed('K', 100), printed('K', 200), printed('T', 100)]).toEqual(['4.096', '8.138', '4.279']);
  });

  // Both ends of the tables and what lies between them, as NIST prints them (from memory).
  it.each([
    ['K', -270, '-6.458'],
    ['K', -200, '-5.891'],
    ['K', -100, '-3.554'],
    ['K', 500, '20.644'],
    ['K', 1000, '41.276'],
    ['K', 1372, '54.886'],
    ['T', -270, '-6.258'],
    ['T', -200, '-5.603'],
    ['T', -100, '-3.379'],
    ['T', 300, '14.862'],
    ['T', 400, '20.872'],
  ] as const)('prints type %s at %d °C as %s mV', (type, t, printed) => {
    const made = thermocoupleMillivolts(type, celsius(t));
    expect(made.ok ? made.value.toFixed(3) : made.problem.code).toBe(printed);
  });

  it.each(['K', 'T'] as const)(
    'type %s is read back over its whole range, whatever the cold junction',
    (type) => {
      let furthest = 0;
      for (const cold of [-40, 0, 25, 85])
        for (let t = -260; t <= (type === 'K' ? 1372 : 400); t += 1.7) {
          const made = thermocoupleMillivolts(type, celsius(t), celsius(cold));
          const read = thermocoupleCelsius(type, made.ok ? made.value : Number.NaN, celsius(cold));
          furthest = Math.max(furthest, read.ok ? Math.abs(read.value - t) : Infinity);
        }
      expect(furthest).toBeLessThan(1e-7);
    },
  );

  it('makes the cold junction good in volts: hot 80 °C against 25 °C', () => {
    const [k, t] = (['K', 'T'] as const).map((type) =>
      thermocoupleMillivolts(type, celsius(80), celsius(25)),
    );
    expect(k?.ok ? k.value : null).toBeCloseTo(2.2664, 4);
    expect(t?.ok ? t.value : null).toBeCloseTo(2.3657, 4);
    const right = thermocoupleCelsius('K', 2.2664, celsius(25));
    expect(right.ok ? right.value : null).toBeCloseTo(80, 2);
    // The trap: the voltage read against 0 °C plus 25 gives 80.89 °C.
    const trap = thermocoupleCelsius('K', 2.2664, celsius(0));
    expect(trap.ok ? trap.value + 25 : null).toBeCloseTo(80.89, 2);
  });
});
