import { describe, expect, it } from 'vitest';
import { addSteady, advanceBand, type HeaterBand, learnCycle, startBand } from './heater-band.ts';
import { learnTurn } from './own-turns.ts';

const STEP = 10_000;
const PERIOD = 1_200_000;
const HYSTERESIS = 0.3;
const SHORTEST = 40_000;

/** Rises for a quarter of the period and falls for the rest, between `low` and `high`. */
const thermostat = (low: number, high: number) => (at: number) => {
  const share = (at % PERIOD) / PERIOD;
  return low + (high - low) * (share < 0.25 ? 4 * share : (4 / 3) * (1 - share));
};
const usual88to92 = thermostat(88, 92);

/** Feeds from one instant to another and learns from every closed cycle; returns how many were closed. */
const run = (
  band: HeaterBand,
  from: number,
  to: number,
  celsius: (at: number) => number,
  { disturbedAt = 0, learns = true } = {},
): number => {
  let closed = 0;
  for (let at = from + STEP; at <= to; at += STEP)
    if (advanceBand(band, at - STEP, at, celsius(at), HYSTERESIS, disturbedAt, SHORTEST)) {
      closed += 1;
      if (learns) learnCycle(band);
    }
  return closed;
};
const learned = (cycles: number): HeaterBand => {
  const band = startBand(0, 88);
  run(band, 0, (cycles + 1) * PERIOD, usual88to92);
  return band;
};

describe('the band of a heater', () => {
  it.each([
    { top: 90.5, widens: false },
    { top: 93.5, widens: true },
  ])('scatters upwards by every second top of $top °C beside 92 °C: $widens', ({ top, widens }) => {
    const band = learned(12);
    const every2nd = (at: number) =>
      Math.floor(at / PERIOD) % 2 === 0 ? thermostat(88, top)(at) : usual88to92(at);
    run(band, 13 * PERIOD, 25 * PERIOD, every2nd);
    expect((band.usual?.spread ?? 0) > 0.6).toBe(widens);
  });
  it('is the turning points of its thermostat, with its times of rise and fall', () => {
    const { cycles, usual } = learned(20);
    expect(usual?.high).toBeCloseTo(92, 1);
    expect(usual?.low).toBeCloseTo(88, 1);
    expect(usual?.riseSeconds).toBeCloseTo(300, -1);
    expect(usual?.fallSeconds).toBeCloseTo(900, -1);
    expect(usual?.learned).toBeGreaterThanOrEqual(18);
    expect(cycles.length).toBeLessThanOrEqual(16);
  });

  it('counts no turn of less than the hysteresis', () => {
    const band = startBand(0, 90);
    expect(run(band, 0, 20 * PERIOD, (at) => 90 + (at % 20_000 === 0 ? 0.14 : -0.14))).toBe(0);
    expect(band.usual).toBeNull();
  });

  it('counts no cycle across a silence, nor one that is shorter than a heater can make', () => {
    const band = startBand(0, 88);
    run(band, 0, 250_000, usual88to92);
    const before = band.cycles.length;
    advanceBand(band, 250_000, 250_000 + 400_000, 88, HYSTERESIS, 0, SHORTEST);
    expect([band.going, band.valleyAt, band.peakAt]).toEqual([0, 0, 0]);
    expect(band.cycles).toHaveLength(before);
    const hasty = startBand(0, 90);
    expect(run(hasty, 0, PERIOD, (at) => (at % 20_000 === 0 ? 92 : 88))).toBe(0);
  });

  it('is no habit of what happens while somebody is at work', () => {
    const band = learned(20);
    const { high, low } = band.usual ?? { high: 0, low: 0 };
    const from = 21 * PERIOD;
    run(band, from, from + 6 * PERIOD, thermostat(84, 94), { disturbedAt: from + 7 * PERIOD });
    expect(band.cycles.at(-1)).toMatchObject({ disturbed: true });
    expect([band.usual?.high, band.usual?.low]).toEqual([high, low]);
  });

  it('is learned anew when the heater was set differently and stays so, and not before', () => {
    const band = learned(20);
    const from = 21 * PERIOD;
    run(band, from, from + 12 * PERIOD, thermostat(78, 82));
    expect(band.usual?.high).toBeCloseTo(92, 1);
    run(band, from + 12 * PERIOD, from + 40 * PERIOD, thermostat(78, 82));
    expect(band.usual?.high).toBeCloseTo(82, 0);
  });

  it('keeps a reference of its first days, against which a slow creep shows', () => {
    const band = learned(70);
    expect(band.reference?.high).toBeCloseTo(92, 1);
    const from = 71 * PERIOD;
    const creeping = (at: number) => usual88to92(at) + (2 * (at - from)) / (200 * PERIOD);
    run(band, from, from + 200 * PERIOD, creeping);
    expect(band.reference?.high).toBeCloseTo(92, 1);
    expect(band.usual?.high).toBeGreaterThan(93.3);
  });

  const LIMIT = 105;
  const HIGHER = { riseSeconds: 300, fallSeconds: 900, low: 88, disturbed: false } as const;
  const turned = (tops: readonly number[]): number => {
    const band = learned(20);
    for (const high of tops) {
      band.cycles = [...band.cycles, { ...HIGHER, at: 0, high }];
      learnTurn(band, LIMIT);
    }
    return band.usual?.top ?? Number.NaN;
  };
  it('reaches as far as where it has turned by itself three times', () => {
    expect(turned([96, 95.5])).toBeLessThan(92.2);
    expect(turned([96, 95.5, 95.8])).toBe(96);
  });
  it('does not follow turns that go up and up, nor those near its ceiling', () => {
    expect(turned([95, 96, 97, 98, 99])).toBeLessThan(92.2);
    expect(turned([106, 106, 106])).toBeLessThan(92.2);
  });

  it('of a heater without turns is what it holds, ten minutes at a time', () => {
    const band = startBand(0, 50);
    for (let stretch = 1; stretch <= 10; stretch += 1) addSteady(band, stretch * 600_000, 49.8, 50.2, true);
    expect(band.usual).toMatchObject({ learned: 10, riseSeconds: 0 });
    expect(band.usual?.high).toBeCloseTo(50.2, 9);
    expect(band.usual?.low).toBeCloseTo(49.8, 9);
  });

  it('is plain JSON, so that it goes on after a restart as if there had been none', () => {
    const band = learned(10);
    const restarted: HeaterBand = JSON.parse(JSON.stringify(band));
    const from = 11 * PERIOD;
    run(band, from, from + 3 * PERIOD, usual88to92);
    run(restarted, from, from + 3 * PERIOD, usual88to92);
    expect(restarted).toEqual(band);
  });
});
