import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type PotDesign, potModel } from './pot.ts';
import { singleMassModel } from './single-mass.ts';
import { QUIET, type StationModel } from './station-model.ts';

const SMALL: PotDesign = {
  bodyJoulesPerKelvin: 200,
  waxGrams: 60,
  melting: { solidus: 58, liquidus: 68 },
  heaterWatts: 80,
  thermostat: { closesBelow: 88, opensAbove: 91, lagSeconds: 4 },
  feelsBody: 0.4,
  bodyToWax: 8,
  wallLoss: 0.5,
  surfaceLoss: 0.4,
  lidFactor: 0.45,
  dippingWatts: 9,
  dippingGramsPerHour: 4,
};

const wax = (pot: StationModel) => pot.spots.wax?.() ?? Number.NaN;

/** Seconds until the wax passes a temperature upwards. */
const secondsTo = (pot: StationModel, celsius: number, input = { ...QUIET, on: true }): number => {
  for (let second = 0; second < 36_000; second += 1) {
    if (wax(pot) >= celsius) return second;
    pot.advance(input, 1);
  }
  return Number.POSITIVE_INFINITY;
};

describe('a thermostat on one lump of heat', () => {
  it('cycles by the closed form: tau 1800 s, 25 to 125 °C, band 68 to 72 gives 130.97 s on and 160.11 s off', () => {
    const design = {
      joulesPerKelvin: 1800,
      heaterWatts: 100,
      thermostat: { closesBelow: 68, opensAbove: 72, lagSeconds: 0 },
      loss: 1,
      openLoss: 0,
      workingWatts: 0,
    };
    const lump = singleMassModel(design, 67);
    const input = { ...QUIET, on: true, roomCelsius: 25 };
    const step = 0.05;
    const turns: { at: number; rises: boolean }[] = [];
    let before = lump.spots.middle?.() ?? 0;
    let rose = true;
    for (let i = 0; turns.length < 5; i += 1) {
      lump.advance(input, step);
      const now = lump.spots.middle?.() ?? 0;
      if (now > before !== rose) turns.push({ at: i * step, rises: now > before });
      rose = now > before;
      before = now;
    }
    const [top, bottom, nextTop] = turns.map(({ at }) => at);
    expect((bottom ?? 0) - (top ?? 0)).toBeCloseTo(160.11, 0);
    expect((nextTop ?? 0) - (bottom ?? 0)).toBeCloseTo(130.97, 0);
  });
});

describe('a pot of wax', () => {
  it('keeps its books balanced whatever people and faults do to it', () => {
    const flags = fc.record({
      on: fc.boolean(),
      open: fc.boolean(),
      busy: fc.boolean(),
      stuckOn: fc.boolean(),
      powered: fc.boolean(),
      toppedUp: fc.boolean(),
      levelAtMost: fc.constantFrom(1, 0.5),
    });
    fc.assert(
      fc.property(fc.array(flags, { minLength: 1, maxLength: 30 }), (script) => {
        const pot = potModel(SMALL, 20);
        for (const input of script) for (let i = 0; i < 60; i += 1) pot.advance({ ...QUIET, ...input }, 2);
        const { supplied, lost, gained } = pot.balance();
        expect(Math.abs(supplied - lost - gained)).toBeLessThan(1e-6);
      }),
      { numRuns: 50 },
    );
  });

  it('of several layers keeps its books to 0.1 % of the heat turned over through a day of work', () => {
    const pot = potModel({ ...SMALL, layers: 3, solidBetween: 0.3, moltenBetween: 6 }, 20);
    for (let second = 0; second < 36_000; second += 2) {
      const on = second < 28_800;
      const ladledShare = second % 3600 === 3598 ? 0.05 : 0;
      const toppedUp = second % 7200 === 7198;
      pot.advance({ ...QUIET, on, busy: second % 1800 < 400, ladledShare, toppedUp }, 2);
    }
    const { supplied, lost, gained } = pot.balance();
    expect(lost).toBeGreaterThan(100_000);
    expect(Math.abs(supplied - lost - gained)).toBeLessThan(0.001 * lost);
  });

  it('has layers that differ while it warms, and are nearly alike once all is molten', () => {
    const layers = { layers: 3, probeLayer: 2, solidBetween: 0.1, moltenBetween: 20, feelsBody: 0 };
    const pot = potModel({ ...SMALL, ...layers }, 20);
    let apart = 0;
    for (let i = 0; i < 3600; i += 1) {
      pot.advance({ ...QUIET, on: true }, 1);
      apart = Math.max(apart, (pot.spots.hottest?.() ?? 0) - (pot.spots.coldest?.() ?? 0));
    }
    expect(apart).toBeGreaterThan(2);
    expect((pot.spots.hottest?.() ?? 0) - (pot.spots.coldest?.() ?? 0)).toBeLessThan(1.5);
  });

  it('with its feeler bare heats on over its band, and a bare probe reads the air above the wax', () => {
    const bare = { ...SMALL, feelerBareBelow: 0.5, probeBareBelow: 0.4 };
    const low = potModel(bare, 20);
    for (let i = 0; i < 7200; i += 1) low.advance({ ...QUIET, on: true, levelAtMost: 0.3 }, 1);
    expect(low.spots.hottest?.()).toBeGreaterThan(105);
    expect(wax(low)).toBeLessThan((low.spots.hottest?.() ?? 0) - 20);
  });

  it('lingers while it melts', () => {
    const pot = potModel(SMALL, 20);
    const to48 = secondsTo(pot, 48);
    const to58 = secondsTo(pot, 58);
    const to68 = secondsTo(pot, 68);
    expect(to48).toBeGreaterThan(0);
    expect(to68).toBeGreaterThan(2 * to58);
  });

  it('holds its band with the thermostat and settles far above it with a welded contact', () => {
    const pot = potModel(SMALL, 20);
    for (let i = 0; i < 3600; i += 1) pot.advance({ ...QUIET, on: true }, 1);
    expect(wax(pot)).toBeGreaterThan(84);
    expect(wax(pot)).toBeLessThan(95);
    for (let i = 0; i < 7200; i += 1) pot.advance({ ...QUIET, on: true, stuckOn: true }, 1);
    const settled = wax(pot);
    expect(settled).toBeGreaterThan(110);
    for (let i = 0; i < 600; i += 1) pot.advance({ ...QUIET, on: true, stuckOn: true }, 1);
    expect(wax(pot)).toBeCloseTo(settled, 1);
  });

  it('warms faster when wax is missing', () => {
    const full = secondsTo(potModel(SMALL, 20), 85);
    const low = secondsTo(potModel(SMALL, 20), 85, { ...QUIET, on: true, levelAtMost: 0.4 });
    expect(low).toBeLessThan(0.7 * full);
  });

  it('loses its heat when the mains fails, though it is switched on', () => {
    const pot = potModel(SMALL, 90);
    for (let i = 0; i < 3600; i += 1) pot.advance({ ...QUIET, on: true, powered: false }, 2);
    expect(wax(pot)).toBeLessThan(25);
  });
});
