import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  advanceSignal,
  HEATER_CHANGE,
  noiseOf,
  PLACE_CHANGE,
  type PlausibleChange,
  type ProbeSignal,
  spikesAt,
  startSignal,
} from './probe-signal.ts';

const STEP = 10_000;
const START = 1_000_000_000;
/** Feeds values ten seconds apart; returns which of them were believed. */
const feed = (signal: ProbeSignal, values: readonly number[], change: PlausibleChange = HEATER_CHANGE) =>
  values.map((celsius) => {
    const newest = Math.max(signal.at, signal.doubted > 0 ? signal.doubtedAt : 0);
    return advanceSignal(signal, newest + STEP, celsius, change, false);
  });
const started = (celsius = 90): ProbeSignal => startSignal(START, celsius);

describe('a reading that no wax can have made', () => {
  it('changes nothing when it stands alone', () => {
    const signal = started();
    expect(feed(signal, [90, 160, 90.5])).toEqual([true, false, true]);
    expect(signal).toMatchObject({ celsius: 90.5, doubted: 0, step: null });
    expect(spikesAt(signal, signal.at)).toBeCloseTo(1, 9);
  });

  it('is believed when the next one is like it, and remembered as a step', () => {
    const signal = started();
    expect(feed(signal, [160, 163])).toEqual([false, true]);
    expect(signal).toMatchObject({ celsius: 163, step: { from: 90, to: 163 } });
    expect(spikesAt(signal, signal.at)).toBe(0);
  });

  it('is not borne out by one that is as far from it as from the wax', () => {
    const signal = started();
    expect(feed(signal, [160, 240])).toEqual([false, false]);
    expect(signal.celsius).toBe(90);
  });

  it('is no spike of a loose contact when the next ones go on the same way, slower, as in hot water that is poured in', () => {
    const signal = started(17.5);
    feed(signal, [35, 44, 47.75, 49.5]);
    expect(signal.celsius).toBe(49.5);
    expect(spikesAt(signal, signal.at)).toBe(0);
  });

  it('needs six alike from a probe that has been leaping', () => {
    const signal = started();
    feed(signal, [160, 90, 160, 90, 160, 90]);
    expect(feed(signal, [160, 160, 160, 160, 160, 160])).toEqual([false, false, false, false, false, true]);
    expect(signal.celsius).toBe(160);
  });

  it('is forgotten within hours', () => {
    const signal = started();
    feed(signal, [160, 90, 160, 90, 160, 90]);
    expect(spikesAt(signal, signal.spikeAt + 3_600_000)).toBeCloseTo(signal.spikes / Math.E, 9);
    const later = signal.at + 3 * 3_600_000;
    advanceSignal(signal, later, 90, HEATER_CHANGE, false);
    expect(feed(signal, [160, 160])).toEqual([false, true]);
  });

  it.each([
    { change: HEATER_CHANGE, believed: 15, doubted: 15.1 },
    { change: PLACE_CHANGE, believed: 3, doubted: 3.1 },
  ])('is one beyond $believed °C within ten seconds', ({ change, believed, doubted }) => {
    expect(feed(started(20), [20 + believed], change)).toEqual([true]);
    expect(feed(started(20), [20 - believed], change)).toEqual([true]);
    expect(feed(started(20), [20 + doubted], change)).toEqual([false]);
  });

  it('does not occur in a heater that rises or falls by less than a kelvin a second', () => {
    const rates = fc.array(fc.double({ min: -1, max: 1, noNaN: true }), { maxLength: 60 });
    fc.assert(
      fc.property(rates, (changes) => {
        const signal = started();
        let celsius = 90;
        for (const change of changes) {
          celsius += (change * STEP) / 1000;
          expect(feed(signal, [celsius])).toEqual([true]);
          expect(signal.celsius).toBe(celsius);
        }
      }),
    );
  });
});

describe('what the readings of a probe show of it', () => {
  it('is its noise, once there are twenty, and none for a straight ramp', () => {
    const signal = started(20);
    // Independent of each other, standard deviation 0.5: of a fixed linear congruential generator.
    let seed = 1;
    const uniform = () => {
      seed = (seed * 16_807) % 2_147_483_647;
      return seed / 2_147_483_647;
    };
    const noise = () => (uniform() - 0.5) * 0.5 * Math.sqrt(12);
    feed(
      signal,
      Array.from({ length: 19 }, () => 20 + noise()),
    );
    expect(noiseOf(signal)).toBeNull();
    feed(
      signal,
      Array.from({ length: 2000 }, () => 20 + noise()),
    );
    expect(noiseOf(signal) ?? 0).toBeGreaterThan(0.3);
    expect(noiseOf(signal) ?? 9).toBeLessThan(0.8);
    const ramp = started(20);
    feed(
      ramp,
      Array.from({ length: 200 }, (_, index) => 20 + index / 10),
    );
    expect(noiseOf(ramp)).toBeCloseTo(0, 6);
  });

  it('is since when it has been the same, and for how long it usually rests', () => {
    const signal = started(20);
    feed(signal, [20, 20, 20, 21, 21, 22]);
    expect(signal).toMatchObject({ sameReadings: 1, longestSame: 3 * STEP, changes: 2 });
    feed(signal, [22, 22]);
    expect(signal).toMatchObject({ sameReadings: 3, sameSince: START + 6 * STEP });
  });

  it('leaves out as rest the time in which nothing was received', () => {
    const signal = started(20);
    feed(signal, [20, 20]);
    const back = signal.at + 48 * 3_600_000;
    advanceSignal(signal, back, 20, PLACE_CHANGE, false);
    expect(signal.at - signal.sameSince).toBe(2 * STEP);
  });
});
