// Ohms and millivolts from the journal to degrees, by what the lab entered for the probe.

import { describe, expect, it } from 'vitest';
import type { ReadingsEntry } from '../../lab/entry.ts';
import type { Probe } from '../../lab/lab.ts';
import type { ElectricalReading, Reading } from '../../lab/reading.ts';
import type { Sensor } from '../../lab/sensor.ts';
import { instant, potLab } from '../../tests/rehearsal.ts';
import { celsius } from '../../wax/units.ts';
import { type QualifyState, seenElectrical } from './probe-record.ts';
import { qualify } from './qualify.ts';

const probe = (id: string, more: Partial<Probe> = {}): Probe => ({
  id,
  gateway: 'gw',
  station: null,
  correction_celsius: 0,
  uncertainty_celsius: 0.5,
  ...more,
});
const labWith = (...probes: readonly Probe[]) => ({ ...potLab(), probes });
const ohms = (second: number, value: number): ElectricalReading => ({
  probe: 'bare',
  at: instant(second),
  quality: 'good',
  unit: 'Ohm',
  value,
});
const millivolts = (second: number, value: number): ElectricalReading => ({
  ...ohms(second, value),
  unit: 'mV',
});
const room = (second: number, value: number): Reading => ({
  probe: 'room',
  at: instant(second),
  celsius: celsius(value),
  quality: 'good',
});
const entry = (
  electrical: readonly ElectricalReading[],
  readings: readonly Reading[] = [],
): ReadingsEntry => ({ kind: 'readings', receivedAt: instant(1000), gateway: 'gw', readings, electrical });
const run = (probes: readonly Probe[], entries: readonly ReadingsEntry[]) => {
  const state: QualifyState = {};
  const steps = entries.map((each) => qualify(state, each, labWith(...probes), () => null));
  return {
    state,
    values: steps.flatMap(({ entry: left }) =>
      left?.kind === 'readings'
        ? left.readings.map(({ probe: id, celsius: value }) => [id, Number(value.toFixed(2))])
        : [],
    ),
    codes: steps.flatMap(({ rejections }) => rejections.map(({ code }) => code)),
    isElectricalLeft: steps.map(({ entry: left }) => left !== null && 'electrical' in left),
  };
};
const PT100: Sensor = { kind: 'platinum', element: 'pt100', wires: 4 };
const K: Sensor = { kind: 'thermocouple', thermocouple: 'K', cold_junction_probe: 'room' };

describe('ohms', () => {
  it('of a described sensor become degrees, corrected like any other reading', () => {
    const { values, codes, isElectricalLeft } = run(
      [probe('bare', { sensor: PT100, correction_celsius: 0.5 })],
      [entry([ohms(0, 123.24)])],
    );
    expect([values, codes, isElectricalLeft]).toEqual([[['bare', 60.5]], [], [false]]);
  });

  it('of a sensor that nobody described are refused and shown as they came', () => {
    const { values, codes, state } = run([], [entry([ohms(0, 123.24)])]);
    expect([values, codes]).toEqual([[], ['sensor-not-described']]);
    expect(seenElectrical(state).get('bare')).toMatchObject({ gateway: 'gw', unit: 'Ohm', value: 123.24 });
  });

  it('of a broken wire are refused', () => {
    expect(run([probe('bare', { sensor: PT100 })], [entry([ohms(0, 9_000_000)])]).codes).toEqual([
      'outside-probe-range',
    ]);
  });

  it('that come to exactly 85 °C are no power-on value', () => {
    const sensor: Sensor = { kind: 'thermistor', r25_ohms: 10_000, beta_kelvin: 3950 };
    const value = 10_000 * Math.exp(3950 * (1 / 358.15 - 1 / 298.15));
    const state: QualifyState = {};
    const step = qualify(state, entry([ohms(0, value)]), labWith(probe('bare', { sensor })), () => null);
    expect(step.entry).toMatchObject({ readings: [{ quality: 'good' }] });
  });
});

describe('millivolts of a thermocouple', () => {
  const probes = [probe('bare', { sensor: K }), probe('room')];

  it('are taken with the cold junction of the same message', () => {
    // 100 °C against 25 °C: 4.096 - 1.000 mV (IEC 60584-1 tables).
    const { values } = run(probes, [entry([millivolts(0, 3.096)], [room(0, 25)])]);
    expect(values).toEqual([
      ['room', 25],
      ['bare', expect.closeTo(100, 1)],
    ]);
  });

  it('of the past are taken with the cold junction of then', () => {
    const { values } = run(probes, [
      entry([], [room(900, 35)]),
      entry([millivolts(0, 3.096)], [room(0, 25)]),
    ]);
    expect(values.at(-1)).toEqual(['bare', expect.closeTo(100, 1)]);
  });

  it.each([
    ['within five minutes', 300, []],
    ['after five minutes', 301, ['cold-junction-unknown']],
  ])('are taken with the newest cold junction %s', (_, second, codes) => {
    expect(run(probes, [entry([], [room(0, 25)]), entry([millivolts(second, 3.096)])]).codes).toEqual(codes);
  });

  it('are refused while the cold junction was never measured', () => {
    expect(run(probes, [entry([millivolts(0, 3.096)])]).codes).toEqual(['cold-junction-unknown']);
  });
});
