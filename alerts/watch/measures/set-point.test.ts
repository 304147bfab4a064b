import { describe, expect, it } from 'vitest';
import { type HeatCycle, type HeaterBand, startBand } from './heater-band.ts';
import { followOvernight, followSetPoint, topsOfDay } from './set-point.ts';
import type { TenMinutes } from './ten-minutes.ts';

const PERIOD = 600_000;
const cycleAt = (index: number, high: number, other: Partial<HeatCycle> = {}): HeatCycle => ({
  at: index * PERIOD,
  riseSeconds: 200,
  fallSeconds: 400,
  low: high - 3,
  high,
  disturbed: false,
  ...other,
});
/** A pot whose tops were at 80 °C in its first days. */
const bandOf = (cycles: readonly HeatCycle[]): HeaterBand => ({
  ...startBand(0, 78),
  cycles,
  reference: { high: 80, cycles: 60, since: 0, lowest: 79.8, highest: 80.2 },
});
const movedBy = (
  topOf: (index: number) => number,
  other: (index: number) => Partial<HeatCycle> = () => ({}),
) =>
  followSetPoint(bandOf(Array.from({ length: 9 }, (_, index) => cycleAt(index, topOf(index), other(index)))))
    ?.moved;

describe('the set point of a pot', () => {
  it.each([-2.5, 1, 2.5])(
    'that is turned by %s K is followed once four cycles closed at the new one',
    (kelvins) => {
      const moved = movedBy((index) => (index < 5 ? 80 : 80 + kelvins));
      expect(moved).toHaveLength(1);
      expect(moved?.[0]).toBeCloseTo(kelvins, 9);
    },
  );
  it.each([
    { what: 'creep away from cycle to cycle', topOf: (index: number) => 80 + 0.4 * index },
    { what: 'move by less than a knob does', topOf: (index: number) => (index < 5 ? 80 : 80.4) },
    { what: 'move as far as a lid lets them', topOf: (index: number) => (index < 5 ? 80 : 74) },
  ])('is taken for the same where tops $what', ({ topOf }) => {
    expect(movedBy(topOf)).toBeUndefined();
  });
  const turned = (index: number) => (index < 5 ? 80 : 78);
  it.each([
    { what: 'the pot heats for longer than before', other: { riseSeconds: 300 } },
    { what: 'somebody works at it', other: { disturbed: true } },
    { what: 'its bottoms stay where they were', other: { low: 77 } },
  ])('is taken for the same where $what', ({ other }) => {
    expect(movedBy(turned, (index) => (index < 5 ? {} : other))).toBeUndefined();
  });
  it.each([4, 5, 6])('is taken for the same where a night lies before turn %s', (morning) => {
    expect(
      movedBy(
        (index) => (index < morning ? 80 : 78),
        (index) => (index < morning ? {} : { at: index * PERIOD + 14 * 3_600_000 }),
      ),
    ).toBeUndefined();
  });
});

describe('the set point of a pot that is off overnight', () => {
  const TEN = 600_000;
  /** Ten minutes whose tops are those of the hour since it became hot. */
  const day = (hours: number, topOf: (hour: number) => number): TenMinutes[] =>
    Array.from({ length: hours * 6 }, (_, index) => {
      const high = topOf(index / 6);
      return { at: index * TEN, low: high - 3, high, sum: high - 1, count: 1 };
    });
  const usual = {
    at: 0,
    high: 80,
    low: 77,
    riseSeconds: 200,
    fallSeconds: 400,
    spread: 0.1,
    top: 80,
    bottom: 77,
    learned: 50,
  };
  const band = { ...bandOf([]), usual };
  const before = topsOfDay(
    band,
    day(9, () => 80),
    0,
  );
  /** After fifteen hours off. */
  const morning = (hours: number, topOf: (hour: number) => number) =>
    before &&
    followOvernight({ ...band, day: { ...before, endedAt: -15 * 3_600_000 } }, day(hours, topOf), 0)?.moved;

  it.each([-2, 1.1, 3])(
    'was turned by %s K where its tops stand still there for hours, as on the day before',
    (kelvins) => {
      expect(before).toMatchObject({ first: 80, last: 80 });
      expect(morning(5, () => 80 + kelvins)?.[0]).toBeCloseTo(kelvins, 9);
    },
  );
  it('is not known to be turned before its tops of four hours are', () => {
    expect(morning(4.5, () => 82)).toBeUndefined();
  });
  it.each([
    { what: 'go on moving', topOf: (hour: number) => 82 + 0.3 * hour },
    { what: 'go on as slowly as they moved overnight', topOf: (hour: number) => 81.5 + 0.1 * hour },
    { what: 'stand where they were', topOf: () => 80.2 },
    { what: 'stand further off than a knob is turned', topOf: () => 85 },
  ])('was not turned where its tops $what', ({ topOf }) => {
    expect(morning(5, topOf)).toBeUndefined();
  });
  it('was not turned where its tops crept on the day before', () => {
    const crept = topsOfDay(
      band,
      day(9, (hour) => 79 + 0.15 * hour),
      0,
    );
    const followed =
      crept &&
      followOvernight(
        { ...band, day: crept },
        day(5, () => 82),
        0,
      );
    expect(followed).toBe(band.reference);
  });
  it('is kept once beside the tops of its first days', () => {
    if (before === undefined) throw new Error('the day is long enough');
    const today = day(5, () => 82);
    const reference = followOvernight({ ...band, day: before }, today, 0);
    expect(reference?.moved).toEqual([2]);
    expect(followOvernight({ ...band, reference, day: before }, today, 0)).toBe(reference);
  });
  it('is not judged after a day of two hours', () => {
    const short = topsOfDay(
      band,
      day(2, () => 80),
      0,
    );
    expect(short).toBeUndefined();
    const followed = followOvernight(
      band,
      day(5, () => 82),
      0,
    );
    expect(followed).toBe(band.reference);
  });
});
