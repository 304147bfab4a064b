import { randomLcg, randomNormal } from 'd3-random';
import { describe, expect, it } from 'vitest';
import {
  type ThermostatState,
  thermostatStart,
  thermostatStep,
  thermostatSummary,
  thermostatTimes,
} from './thermostat-cycle.ts';
import { type Celsius, celsius, epochMillis, seconds } from '../units.ts';

const load = { timeConstant: seconds(1800), ambient: celsius(25), heaterOn: celsius(125) };

/** A two-point controller on a first-order load, stepped exactly; the upper switch drifts by `drift` K an hour. */
function cycling(hours: number, every: number, drift = 0, noise: () => number = () => 0): ThermostatState {
  let state = thermostatStart();
  let [temperature, heating] = [70, true];
  for (let t = 0; t <= hours * 3600; t++) {
    const moved = (drift * t) / 3600;
    if (temperature >= 72 + moved) heating = false;
    if (temperature <= 68 + moved) heating = true;
    const towards = heating ? load.heaterOn : load.ambient;
    temperature = towards + (temperature - towards) * Math.exp(-1 / 1800);
    if (t % every === 0) state = thermostatStep(state, epochMillis(t * 1000), celsius(temperature + noise()));
  }
  return state;
}

describe('thermostat cycle', () => {
  it('finds period, duty and extremes of the textbook cycle in the readings', () => {
    const times = thermostatTimes(load, celsius(68), celsius(72));
    const summary = thermostatSummary(cycling(3, 1), celsius(72));
    expect(times.ok && summary !== null).toBe(true);
    if (!times.ok || summary === null) return;
    expect(Math.abs(summary.periodSeconds - times.value.periodSeconds)).toBeLessThan(4);
    expect(summary.duty).toBeCloseTo(times.value.duty, 2);
    expect(summary.high).toBeCloseTo(72, 1);
    expect(summary.low).toBeCloseTo(68, 1);
    expect(summary.overshoot).toBeLessThan(0.1);
  });

  it('finds a drifting thermostat under noise, and none in a steady one', () => {
    const noise = () => randomNormal.source(randomLcg(0.4))(0, 0.05);
    const steady = thermostatSummary(cycling(2, 5, 0, noise()));
    const drifting = thermostatSummary(cycling(2, 5, 1.5, noise()));
    expect(Math.abs(steady?.drift.mean ?? 9)).toBeLessThan(0.1);
    expect(drifting?.drift.mean).toBeGreaterThan(1.3);
    expect(drifting?.drift.mean).toBeLessThan(1.7);
  });

  it('counts no cycle in noise that is smaller than the hysteresis', () => {
    let state = thermostatStart();
    const noise = randomNormal.source(randomLcg(0.2))(70, 0.04);
    for (let t = 0; t < 3600; t += 10) state = thermostatStep(state, epochMillis(t * 1000), celsius(noise()));
    expect(state.cycles).toEqual([]);
    expect(thermostatSummary(state)).toBeNull();
  });

  it('counts no cycle over a silence', () => {
    const whole = cycling(0.5, 5);
    const after = thermostatStep(whole, epochMillis(10 * 3_600_000), celsius(40));
    expect(after.cycles).toEqual(whole.cycles);
    expect(after.going).toBeNull();
  });

  it('keeps its state bounded and plain JSON', () => {
    const state = cycling(6, 5);
    expect(state.cycles.length).toBe(24);
    expect(JSON.parse(JSON.stringify(state))).toEqual(state);
  });

  it('skips late and impossible readings and counts them', () => {
    const state = cycling(0.5, 5);
    const late = thermostatStep(state, epochMillis(1), celsius(70));
    expect(thermostatStep(late, epochMillis(4e6), Number.NaN as Celsius)).toEqual({ ...state, skipped: 2 });
  });

  it('refuses a band that the heater cannot reach', () => {
    const result = thermostatTimes(load, celsius(120), celsius(130));
    expect(result.ok ? null : result.problem.code).toBe('thermostat-cannot-cycle');
  });
});
