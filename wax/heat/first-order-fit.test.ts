import { randomLcg, randomNormal } from 'd3-random';
import { describe, expect, it } from 'vitest';
import {
  type FirstOrderOptions,
  type FirstOrderState,
  firstOrderCurve,
  firstOrderForecast,
  firstOrderStart,
  firstOrderStep,
} from './first-order-fit.ts';
import { minutesToLimit } from './minutes-to-limit.ts';
import { type Celsius, celsius, type EpochMillis, epochMillis, seconds } from '../units.ts';

const heating = (from: number, to: number, tau: number) => (t: number) =>
  to + (from - to) * Math.exp(-t / tau);

function run(
  curve: (second: number) => number,
  every: number,
  until: number,
  noise: () => number = () => 0,
  options: FirstOrderOptions = {},
  start: FirstOrderState = firstOrderStart(),
): FirstOrderState {
  let state = start;
  for (let t = 0; t <= until; t += every)
    state = firstOrderStep(state, epochMillis(t * 1000), celsius(curve(t) + noise()), options);
  return state;
}

describe('first-order fit', () => {
  it('recovers asymptote and time constant of a clean heating curve', () => {
    const forecast = firstOrderForecast(run(heating(25, 125, 1800), 10, 600));
    expect(forecast?.asymptote).toBeCloseTo(125, 1);
    expect(forecast?.timeConstant).toBeGreaterThan(1797);
    expect(forecast?.timeConstant).toBeLessThan(1803);
    expect(forecast?.degreesPerMinute).toBeCloseTo((125 - heating(25, 125, 1800)(600)) / 30, 3);
  });

  it('recovers known values within its own stated errors in at least 90 of 100 noisy seeds', () => {
    const curve = heating(25, 120, 900);
    const truth = (900 * Math.log((120 - curve(600)) / (120 - 80))) / 60;
    let [asymptote, timeConstant, minutes, fitted] = [0, 0, 0, 0];
    for (let seed = 1; seed <= 100; seed++) {
      const state = run(curve, 5, 600, randomNormal.source(randomLcg(seed / 101))(0, 0.1));
      const forecast = firstOrderForecast(state);
      const to = minutesToLimit(state, celsius(80));
      if (forecast === null || to === null) continue;
      fitted++;
      if (forecast.asymptoteLow <= 120 && 120 <= forecast.asymptoteHigh) asymptote++;
      if (forecast.timeConstantLow <= 900 && 900 <= forecast.timeConstantHigh) timeConstant++;
      if (to.low <= truth && truth <= (to.high ?? Infinity)) minutes++;
    }
    expect(fitted).toBe(100);
    expect(asymptote).toBeGreaterThanOrEqual(90);
    expect(timeConstant).toBeGreaterThanOrEqual(90);
    expect(minutes).toBeGreaterThanOrEqual(90);
  });

  it('foretells when a falling temperature meets a lower limit', () => {
    const curve = heating(90, 20, 1200);
    const to = minutesToLimit(run(curve, 10, 600), celsius(40));
    expect(to?.minutes).toBeCloseTo((1200 * Math.log((curve(600) - 20) / 20)) / 60, 1);
    expect(to?.basis).toBe('first-order');
  });

  it('answers null for a limit beyond the asymptote and for one that lies behind the movement', () => {
    const state = run(heating(25, 90, 300), 5, 600);
    expect(minutesToLimit(state, celsius(100))).toBeNull();
    expect(minutesToLimit(state, celsius(60))).toBeNull();
  });

  it('leaves the far end of the band open when the limit lies inside the uncertainty of the asymptote', () => {
    const state = run(heating(25, 90, 900), 5, 300, randomNormal.source(randomLcg(0.3))(0, 0.3));
    const to = minutesToLimit(state, celsius(firstOrderForecast(state)?.asymptote ?? 89));
    expect(to === null || to.high === null).toBe(true);
  });

  it('works on a straight line while no bend is measurable, and is marked as such', () => {
    const state = run((t) => 30 + t / 60, 10, 240, randomNormal.source(randomLcg(0.7))(0, 0.05));
    expect(firstOrderForecast(state)).toBeNull();
    const to = minutesToLimit(state, celsius(44));
    expect(to?.basis).toBe('straight');
    expect(Math.abs((to?.minutes ?? 0) - 10)).toBeLessThan(0.5);
  });

  it('makes no curve out of the noise of a pot at rest', () => {
    let made = 0;
    for (let seed = 1; seed <= 50; seed++) {
      const state = run(() => 70, 10, 900, randomNormal.source(randomLcg(seed / 51))(0, 0.1));
      if (firstOrderForecast(state) !== null || minutesToLimit(state, celsius(75)) !== null) made++;
    }
    expect(made).toBe(0);
  });

  it('makes no curve out of a probe that steps between two codes', () => {
    const state = run((t) => 70 + (t % 20 === 0 ? 0.0625 : 0), 10, 900);
    expect(firstOrderCurve(state)).toBe('at-rest');
  });

  it('starts anew when the heater switches, and follows the new branch', () => {
    const up = run(heating(25, 125, 1800), 10, 600);
    let state = up;
    const top = heating(25, 125, 1800)(600);
    for (let t = 610; t <= 1200; t += 10)
      state = firstOrderStep(state, epochMillis(t * 1000), celsius(heating(top, 25, 1800)(t - 600)));
    const forecast = firstOrderForecast(state);
    expect(forecast?.asymptote).toBeCloseTo(25, 0);
    expect(state.since).toBeGreaterThan(600_000);
  });

  it.each([1, 5, 10])(
    'sees under noise, within three minutes of readings %d s apart, that a heater went off',
    (every) => {
      for (let seed = 1; seed <= 20; seed++) {
        const noise = randomNormal.source(randomLcg(seed / 21))(0, 0.05);
        const up = heating(25, 125, 1800);
        let state = run(up, every, 600, noise);
        expect(minutesToLimit(state, celsius(70))).not.toBeNull();
        const down = heating(up(600), 25, 1800);
        for (let t = 600 + every; t <= 780; t += every)
          state = firstOrderStep(state, epochMillis(t * 1000), celsius(down(t - 600) + noise()));
        expect(minutesToLimit(state, celsius(70))).toBeNull();
        expect(minutesToLimit(state, celsius(45))).not.toBeNull();
      }
    },
  );

  it('leaves out a lone reading that is off the curve', () => {
    const curve = heating(25, 125, 1800);
    const spiked = run((t) => (t === 400 ? 85 : curve(t)), 10, 600);
    expect(firstOrderForecast(spiked)?.asymptote).toBeCloseTo(125, 1);
    expect(spiked.since).toBe(0);
  });

  it('has no fit across the melting plateau and no forecast through it', () => {
    const melting = { low: celsius(48), high: celsius(62) };
    const below = run(heating(25, 125, 1800), 10, 300, undefined, { melting });
    expect(below.celsius).toBeLessThan(48);
    expect(minutesToLimit(below, celsius(90))).toBeNull();
    expect(minutesToLimit(below, celsius(47))).not.toBeNull();
    const inside = run(heating(25, 125, 1800), 10, 600, undefined, { melting });
    expect(firstOrderCurve(inside)).toBe('melting');
    const above = run(heating(25, 125, 1800), 10, 1300, undefined, { melting });
    expect(firstOrderForecast(above)?.asymptote).toBeCloseTo(125, 0);
    expect(minutesToLimit(above, celsius(90))).not.toBeNull();
  });

  it('starts anew after a silence that is longer than allowed', () => {
    const before = run(heating(25, 125, 1800), 10, 600);
    const after = firstOrderStep(before, epochMillis(1_300_000), celsius(40), { longestGap: seconds(300) });
    expect(after.readings).toBe(1);
    expect(firstOrderCurve(after)).toBe('too-few-readings');
  });

  it('counts late and impossible readings and changes nothing else', () => {
    const before = run(heating(25, 125, 1800), 10, 600);
    const late = firstOrderStep(before, epochMillis(100), celsius(20));
    const silent = firstOrderStep(late, epochMillis(700_000), Number.NaN as Celsius);
    const timeless = firstOrderStep(silent, Number.NaN as EpochMillis, celsius(60));
    expect(timeless).toEqual({ ...before, skipped: 3 });
  });

  it('keeps its state as plain JSON', () => {
    const state = run(heating(25, 125, 1800), 10, 600);
    const revived: FirstOrderState = JSON.parse(JSON.stringify(state));
    expect(firstOrderForecast(revived)).toEqual(firstOrderForecast(state));
  });
});
