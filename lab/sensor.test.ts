import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Celsius } from '../wax/units.ts';
import { type Sensor, sensorCelsius, sensorFaults, sensorValue, uncertaintyByClass } from './sensor.ts';

const room = 25 as Celsius;
const PT100: Sensor = { kind: 'platinum', element: 'pt100' };
const K: Sensor = { kind: 'thermocouple', thermocouple: 'K', cold_junction_celsius: 25 };

describe('a bare sensor', () => {
  // IEC 60751 and IEC 60584-1 reference tables (as several public sources quote them alike).
  it.each([
    ['a Pt100 by its table', PT100, 'Ohm', 123.24, null, 60],
    ['a Pt1000', { ...PT100, element: 'pt1000' }, 'Ohm', 1232.4, null, 60],
    ['a Pt100 on two wires of 0.8 Ω', { ...PT100, wires: 2, lead_ohms: 0.8 }, 'Ohm', 124.04, null, 60],
    ['a type K against 0 °C', K, 'mV', 4.096, 0, 100],
    ['a type T against 0 °C', { ...K, thermocouple: 'T' }, 'mV', 4.279, 0, 100],
    [
      'a thermistor by beta at its nominal value',
      { kind: 'thermistor', r25_ohms: 10_000, beta_kelvin: 3950 },
      'Ohm',
      10_000,
      null,
      25,
    ],
  ] as const)('%s is converted', (_, sensor, unit, value, coldJunction, expected) => {
    const celsius = sensorCelsius(sensor, { unit, value }, coldJunction as Celsius | null);
    expect(celsius).toMatchObject({ ok: true });
    if (celsius.ok) expect(celsius.value).toBeCloseTo(expected, 1);
  });

  it.each([
    ['millivolts from a Pt100', PT100, 'mV', 'sensor-of-another-unit'],
    ['ohms from a thermocouple', K, 'Ohm', 'sensor-of-another-unit'],
    ['a broken wire of a Pt100', PT100, 'Ohm', 'outside-probe-range'],
  ] as const)('refuses %s', (_, sensor, unit, code) => {
    expect(sensorCelsius(sensor, { unit, value: 9999 }, room)).toMatchObject({
      ok: false,
      problem: { code },
    });
  });

  it('refuses a thermocouple without its cold junction', () => {
    expect(sensorCelsius(K, { unit: 'mV', value: 1 }, null)).toMatchObject({
      problem: { code: 'cold-junction-unknown' },
    });
  });

  it('traces every temperature back to what came in', () => {
    const sensors = fc.constantFrom<Sensor>(
      PT100,
      { ...PT100, element: 'pt1000', wires: 2, lead_ohms: 3 },
      K,
      { ...K, thermocouple: 'T' },
      { kind: 'thermistor', r25_ohms: 10_000, beta_kelvin: 3950 },
      { kind: 'thermistor', a: 1.129148e-3, b: 2.34125e-4, c: 8.76741e-8 },
    );
    fc.assert(
      fc.property(sensors, fc.double({ min: -20, max: 200, noNaN: true }), (sensor, celsius) => {
        const came = sensorValue(sensor, celsius as Celsius, room);
        expect(came.ok).toBe(true);
        const back = came.ok ? sensorCelsius(sensor, came.value, room) : came;
        expect(back.ok && Math.abs(back.value - celsius)).toBeLessThan(1e-6);
      }),
    );
  });
});

describe('the fields of a sensor', () => {
  it.each<[string, Sensor, readonly string[]]>([
    ['a Pt100', PT100, []],
    ['a type K with a fixed cold junction', K, []],
    ['a thermistor by coefficients', { kind: 'thermistor', a: 1e-3, b: 2e-4, c: 1e-7 }, []],
    ['platinum without an element', { kind: 'platinum' }, ['element']],
    ['lead resistance on four wires', { ...PT100, wires: 4, lead_ohms: 1 }, ['lead_ohms']],
    [
      'a thermocouple without a cold junction',
      { kind: 'thermocouple', thermocouple: 'K' },
      ['cold_junction_celsius'],
    ],
    [
      'a thermocouple with two cold junctions',
      { ...K, cold_junction_probe: 'room' },
      ['cold_junction_celsius'],
    ],
    ['a thermistor with beta alone', { kind: 'thermistor', beta_kelvin: 3950 }, ['r25_ohms']],
    [
      'a thermistor with both equations',
      { kind: 'thermistor', beta_kelvin: 3950, r25_ohms: 1e4, a: 1 },
      ['a'],
    ],
    ['a Pt100 with a beta', { ...PT100, beta_kelvin: 3950 }, ['beta_kelvin']],
    ['a type K with a class of type T', { ...K, tolerance: 'T-1' }, ['tolerance']],
  ])('%s', (_, sensor, fields) => {
    expect(sensorFaults(sensor).map(({ field }) => field)).toEqual(fields);
  });
});

it('a tolerance class gives the uncertainty of a probe that nobody calibrated', () => {
  expect(uncertaintyByClass({ ...PT100, tolerance: 'platinum-B' })).toBe(0.92);
  expect(uncertaintyByClass({ ...K, tolerance: 'K-2' })).toBe(2.89);
  expect(uncertaintyByClass(PT100)).toBeNull();
});
