import { describe, expect, it } from 'vitest';
import type { Fault } from '../faults/fault.ts';
import { DEMO_GATEWAYS, DEMO_PROBES, DEMO_STATIONS } from './demo-lab.ts';
import { labSimulation } from './lab-simulation.ts';
import type { SimulatedSite } from './site-hours.ts';

const HOUR = 3_600_000;
const MINUTE = 60_000;
const weekday = [['08:00', '17:00']] as const;
const SITE: SimulatedSite = {
  id: 'test',
  timeZone: 'Europe/Berlin',
  workingHours: { mon: weekday, tue: weekday, wed: weekday, thu: weekday, fri: weekday, sat: [], sun: [] },
  holidays: [],
};
/** A Monday, midnight in Berlin. */
const MONDAY = Date.UTC(2026, 10, 1, 23);

const simulate = (faults: readonly Fault[], hours: number, seed = 1, chunk = hours * HOUR) => {
  const simulation = labSimulation({
    site: SITE,
    stations: DEMO_STATIONS,
    probes: DEMO_PROBES,
    gateways: DEMO_GATEWAYS,
    seed,
    from: MONDAY,
  });
  simulation.addFaults(faults);
  const readings = [];
  while (simulation.now() < MONDAY + hours * HOUR)
    readings.push(...simulation.advance(simulation.now() + chunk, () => MINUTE));
  return { readings, simulation };
};

const of = (readings: ReturnType<typeof simulate>['readings'], probe: string, from = 0, to = 24) =>
  readings
    .filter((r) => r.probe === probe && r.at >= MONDAY + from * HOUR && r.at < MONDAY + to * HOUR)
    .map((r) => r.celsius);

describe('a simulated laboratory', () => {
  it('gives the same readings for the same seed, in one stretch or in many', () => {
    const whole = simulate([], 10).readings;
    expect(simulate([], 10, 1, 4 * MINUTE).readings).toEqual(whole);
    expect(simulate([], 10, 2).readings).not.toEqual(whole);
  });

  it('its pots are hot in working hours, and at room temperature at night', () => {
    const { readings } = simulate([], 24);
    expect(Math.min(...of(readings, 'dip-wax', 9, 16))).toBeGreaterThan(80);
    expect(Math.max(...of(readings, 'dip-wax', 9, 16))).toBeLessThan(97);
    expect(Math.max(...of(readings, 'dip-wax', 20, 24))).toBeLessThan(25);
  });

  it('balances every station’s heat over a day', () => {
    for (const [, model] of simulate([], 24).simulation.models) {
      const { supplied, lost, gained } = model.balance();
      const scale = Math.abs(supplied) + Math.abs(lost) + Math.abs(gained) + 1;
      expect(Math.abs(supplied - lost - gained) / scale).toBeLessThan(1e-9);
    }
  });

  it('a welded contact drives the dip pot over 100 °C', () => {
    const fault: Fault = {
      kind: 'thermostat-stuck-on',
      station: 'dip-pot',
      from: MONDAY + 10 * HOUR,
      to: MONDAY + 11 * HOUR,
    };
    expect(Math.max(...of(simulate([fault], 12).readings, 'dip-wax'))).toBeGreaterThan(105);
  });

  it('a pot left on stays hot after closing', () => {
    const fault: Fault = {
      kind: 'left-on',
      station: 'melt-pot-plates',
      from: MONDAY + 16 * HOUR,
      to: MONDAY + 22 * HOUR,
    };
    expect(Math.min(...of(simulate([fault], 22).readings, 'plates-wax', 18, 22))).toBeGreaterThan(60);
  });

  it('a window open at night cools the storage by degrees', () => {
    const open: Fault = { kind: 'window-open', from: MONDAY, to: MONDAY + 7 * HOUR };
    const shut = of(simulate([], 7).readings, 'cabinet-upper', 6, 7);
    const cooled = of(simulate([open], 7).readings, 'cabinet-upper', 6, 7);
    expect(Math.min(...shut) - Math.max(...cooled)).toBeGreaterThan(1.5);
  });

  it('a dead gateway leaves a gap and touches no other gateway', () => {
    const from = MONDAY + 2 * HOUR;
    const fault: Fault = { kind: 'gateway-dead', gateway: 'gw-bench', from, to: from + 20 * MINUTE };
    const { readings } = simulate([fault], 3);
    expect(of(readings, 'bath-water', 2, 2 + 1 / 3).length).toBe(1);
    expect(of(readings, 'bath-water', 0, 3).length).toBe(of(readings, 'dip-wax', 0, 3).length - 20);
  });

  it('a stuck probe repeats its last answer', () => {
    const fault: Fault = {
      kind: 'probe-stuck',
      probe: 'dip-wax',
      from: MONDAY + 8 * HOUR,
      to: MONDAY + 9 * HOUR,
    };
    expect(new Set(of(simulate([fault], 9).readings, 'dip-wax', 8.1, 8.9)).size).toBe(1);
  });

  it('a power cut cools every heater at once', () => {
    const fault: Fault = { kind: 'power-cut', from: MONDAY + 10 * HOUR, to: MONDAY + 12 * HOUR };
    const { readings } = simulate([fault], 12);
    for (const probe of ['dip-wax', 'crowns-wax', 'plates-wax', 'annealer-top', 'bath-water'])
      expect(of(readings, probe, 11.9, 12)[0]).toBeLessThan(of(readings, probe, 9.9, 10)[0] ?? 0);
  });
});
