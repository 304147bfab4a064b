import { describe, expect, it } from 'vitest';
import { creepOf } from './creep.ts';
import type { HeatCycle } from './heater-band.ts';
import { TEN_MINUTES_MILLIS, type TenMinutes } from './ten-minutes.ts';

const LIMIT = 1.2;
const LEAST = 60;
const HOT_SINCE = 1;

/** Ten minutes each, a kelvin about their middle, from the warm-up on. */
const heldAt = (middles: readonly number[], range = 1): readonly TenMinutes[] =>
  middles.map((middle, index) => ({
    at: (index + 1) * TEN_MINUTES_MILLIS,
    low: middle - range / 2,
    high: middle + range / 2,
    sum: 60 * middle,
    count: 60,
  }));
/** Cycles of ten minutes, four kelvins wide, of which the newest closed with the newest ten minutes. */
const cyclesAt = (middles: readonly number[]): readonly HeatCycle[] =>
  middles.map((middle, index) => ({
    at: (index + 2) * TEN_MINUTES_MILLIS,
    riseSeconds: 200,
    fallSeconds: 400,
    low: middle - 2,
    high: middle + 2,
    disturbed: false,
  }));
const steady = (count: number, celsius = 75): readonly number[] =>
  Array.from({ length: count }, () => celsius);
/** So many steps of so many kelvins from 75 °C on. */
const line = (count: number, step: number): readonly number[] =>
  Array.from({ length: count }, (_, index) => 75 + (index + 1) * step);

const creepAfter = (middles: readonly number[], range = 1) =>
  creepOf({ cycles: [] }, heldAt(middles, range), HOT_SINCE, LEAST, LIMIT);

describe('turns that move along a line', () => {
  it('are not known before four of them since the heater settled', () => {
    expect(creepAfter(steady(7))).toBeNull();
    expect(creepAfter(steady(8))).toBe('still');
  });
  it.each([0.25, -0.25])('have crept once they went on by %f K each ten minutes for a while', (step) => {
    expect(creepAfter([...steady(20), ...line(3, step)])).toBe('still');
    expect(creepAfter([...steady(20), ...line(6, step)])).toEqual({
      since: 21 * TEN_MINUTES_MILLIS,
      from: 75.5,
      to: 75.5 + 6 * step,
      isOfTops: false,
    });
  });
  it('are those of cycles where these are long and wide', () => {
    const middles = [...steady(8), ...line(7, 0.25)];
    const crept = { since: 10 * TEN_MINUTES_MILLIS, from: 77, to: 77 + 7 * 0.25, isOfTops: false };
    expect(creepOf({ cycles: cyclesAt(middles) }, heldAt(steady(16), 4), HOT_SINCE, LEAST, LIMIT)).toEqual(
      crept,
    );
  });
  it('crept nowhere when they stepped to another level, or came back to where they were', () => {
    expect(creepAfter([...steady(20), ...steady(6, 77)])).toBe('still');
    expect(creepAfter([...steady(20, 77), ...line(7, 0.25)])).toBe('still');
    expect(creepAfter([...steady(18), ...steady(2, 77), ...line(6, 0.25)])).not.toBe('still');
  });
  it('crept nowhere when they near another level ever more slowly, as wax does that is dipped into', () => {
    const nearing = Array.from({ length: 8 }, (_, index) => 73.7 + 1.3 * Math.exp(-(index + 1) / 2));
    const states = nearing.map((_, index) => creepAfter([...steady(20), ...nearing.slice(0, index + 1)]));
    expect(new Set(states)).toEqual(new Set(['still']));
  });
  it('crept nowhere while tops alone move, the wax cools, or the warm-up still levels out', () => {
    const widening = heldAt(steady(26)).map((stretch, index) => ({
      ...stretch,
      high: stretch.high + Math.max(0, index - 19) * 0.4,
    }));
    expect(creepOf({ cycles: [] }, widening, HOT_SINCE, LEAST, LIMIT)).toBe('still');
    expect(creepAfter([...steady(20), ...line(6, -1.2)], 1.2)).toBe('still');
    expect(creepAfter([...steady(6), ...line(6, 0.25)])).toBe('still');
  });
  /** Tops, and work that lets it fall by up to 8 K below them in two of three stretches. */
  const atWork = (tops: readonly number[]): readonly TenMinutes[] =>
    heldAt(tops).map((stretch, index) => ({
      ...stretch,
      high: stretch.low + 0.5,
      low: stretch.low - ([2, 8, 5, 3, 7, 2.5, 6, 4][index % 8] ?? 0),
    }));
  const creepAtWork = (tops: readonly number[]) =>
    creepOf({ cycles: [] }, atWork(tops), HOT_SINCE, LEAST, LIMIT);
  it.each([0.12, -0.12])(
    'are tops alone where work scatters the bottoms, moving by %f K each ten minutes',
    (step) => {
      expect(creepAtWork([...steady(24), ...line(6, step)])).toBe('still');
      expect(creepAtWork([...steady(24), ...line(15, step)])).toMatchObject({ from: 75, isOfTops: true });
    },
  );
  it('crept nowhere where tops stepped once, or lie a kelvin off the line', () => {
    expect(creepAtWork([...steady(24), ...steady(12, 73)])).toBe('still');
    const ragged = line(15, -0.12).map((top, index) => top + (index % 6 < 3 ? 0 : 1));
    expect(creepAtWork([...steady(24), ...ragged])).toBe('still');
  });
  it('go on creeping long after they were last where they had been', () => {
    expect(creepAfter(line(40, 0.25))).toMatchObject({ to: 85.5 });
  });
});
