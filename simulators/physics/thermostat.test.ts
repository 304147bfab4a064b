import { describe, expect, it } from 'vitest';
import { singleMassModel } from './single-mass.ts';
import { QUIET } from './station-model.ts';
import { control, applyLag } from './thermostat.ts';

const never = () => 0.5;

/** Share of the time with power, and seconds from turn to turn, of one lump (1800 J/K, 1 W/K, 100 W, room 25 °C). */
const cycle = (closesBelow: number, opensAbove: number, lagSeconds: number) => {
  const design = {
    joulesPerKelvin: 1800,
    heaterWatts: 100,
    thermostat: { closesBelow, opensAbove, lagSeconds },
    loss: 1,
    openLoss: 0,
    workingWatts: 0,
  };
  const lump = singleMassModel(design, closesBelow);
  const input = { ...QUIET, on: true, roomCelsius: 25 };
  const step = 0.1;
  const closed: number[] = [];
  let suppliedAtFirst = 0;
  let switchings = 0;
  for (let i = 0; closed.length < 6; i += 1) {
    lump.advance(input, step);
    const now = lump.spots.switchings?.() ?? 0;
    if (now > switchings && now % 2 === 1) {
      closed.push(i * step);
      if (closed.length === 1) suppliedAtFirst = lump.balance().supplied;
    }
    switchings = now;
  }
  const seconds = (closed.at(-1) ?? 0) - (closed[0] ?? 0);
  return {
    period: seconds / (closed.length - 1),
    duty: (lump.balance().supplied - suppliedAtFirst) / (100 * seconds),
  };
};

describe('a two-point thermostat on one lump of heat', () => {
  it.each([
    [68, 72],
    [60, 61],
    [80, 88],
  ])('from %i to %i °C cycles with the period and the duty of the closed form', (low, high) => {
    const tau = 1800;
    const onSeconds = tau * Math.log((125 - low) / (125 - high));
    const offSeconds = tau * Math.log((high - 25) / (low - 25));
    const { period, duty } = cycle(low, high, 0);
    expect(period / (onSeconds + offSeconds)).toBeCloseTo(1, 2);
    expect(duty / (onSeconds / (onSeconds + offSeconds))).toBeCloseTo(1, 2);
  });

  it('with a feeler that lags cycles more slowly', () => {
    expect(cycle(68, 72, 30).period).toBeGreaterThan(1.15 * cycle(68, 72, 0).period);
  });
});

describe('a controller', () => {
  it('in proportion gives full power below its band, none above it, and the rest share at its set point', () => {
    const design = { setCelsius: 70, bandKelvin: 10, restShare: 0.3, lagSeconds: 0 };
    const share = (celsius: number) => control(design, celsius, never).step(celsius, 1, 0, false, false);
    expect(share(60)).toBe(1);
    expect(share(80)).toBe(0);
    expect(share(70)).toBeCloseTo(0.3, 12);
  });

  it('with a welded contact takes all its power whatever it feels', () => {
    const design = { closesBelow: 68, opensAbove: 72, lagSeconds: 0 };
    expect(control(design, 100, never).step(100, 1, 0, false, true)).toBe(1);
  });

  it('that bounces switches many times as often as one in good order', () => {
    const design = { closesBelow: 68, opensAbove: 72, lagSeconds: 0 };
    let state = 1;
    const source = () => {
      state = (state * 16807) % 2147483647;
      return state / 2147483647;
    };
    const count = (chatters: boolean) => {
      const relay = control(design, 66, source);
      for (let i = 0; i < 600; i += 1) relay.step(66, 1, 0, chatters, false);
      return relay.switchings();
    };
    expect(count(false)).toBe(1);
    expect(count(true)).toBeGreaterThan(40);
  });

  it('feels 63.2 % of a step after one lag', () => {
    expect(applyLag(20, 120, 30, 30)).toBeCloseTo(120 - 100 / Math.E, 9);
  });
});
