import { describe, expect, it } from 'vitest';
import { halfWayStep, type WarmUp, warmUpStep } from './warm-up.ts';

const DAY = 86_400_000;
const MINUTE = 60_000;
const minuteOfDay = (at: number) => (at % DAY) / MINUTE;

/** A warm-up that begins on `day` at `startMinute` and takes `minutes`. */
const warmUp = (before: WarmUp | null, day: number, minutes: number, startMinute = 420): WarmUp | null => {
  const since = day * DAY + startMinute * MINUTE;
  const begun = warmUpStep(before, { kind: 'cold' }, { kind: 'warming', since }, since, minuteOfDay);
  const at = since + minutes * MINUTE;
  return warmUpStep(begun, { kind: 'warming', since }, { kind: 'hot', since: at }, at, minuteOfDay);
};
const days = (...minutes: readonly number[]): WarmUp | null =>
  minutes.reduce<WarmUp | null>((before, length, day) => warmUp(before, day + 1, length), null);

describe('the warm-ups of a heater', () => {
  it('have a usual time that follows slow change', () => {
    expect(days(40)).toMatchObject({ seconds: 2400, usualSeconds: 2400, learned: 1 });
    expect(days(40, 44)?.usualSeconds).toBeCloseTo(2460, 9);
  });

  it('that take longer each day hardly move the usual time', () => {
    expect(days(40, 40, 46, 50)?.usualSeconds).toBeLessThan(41.5 * 60);
    expect(days(40, 40, 36, 36)?.usualSeconds).toBeLessThan(39 * 60);
  });

  it.each([20, 60])('are not learned from one of %i minutes where forty are usual', (odd) => {
    expect(days(40, 40, 40, odd)).toMatchObject({ seconds: odd * 60, usualSeconds: 2400, learned: 3 });
  });

  it('have a usual minute of the day, of the first one of each day', () => {
    const morning = days(40, 40);
    expect(morning).toMatchObject({ startMinute: 420, startDays: 2 });
    const afternoon = warmUp(morning, 2, 40, 800);
    expect(afternoon).toMatchObject({ startMinute: 420, startDays: 2 });
    expect(warmUp(morning, 3, 40, 450)?.startMinute).toBeCloseTo(430, 9);
  });

  it('are counted in a row over weekends, and from one again after a day that was left out', () => {
    const week = [1, 2, 3, 4, 5, 8].reduce<WarmUp | null>((before, day) => warmUp(before, day, 40), null);
    expect(week?.inRow).toBe(5);
    expect(warmUp(week, 9, 40)?.inRow).toBe(6);
    expect(warmUp(week, 10, 40)?.inRow).toBe(1);
  });

  it('are half way when they first reach that temperature, and usually as long after as those that are learned from', () => {
    const half = (before: WarmUp | null, day: number, minutes: number, whole: number): WarmUp | null => {
      const since = day * DAY + 420 * MINUTE;
      const warming = { kind: 'warming', since } as const;
      const begun = warmUpStep(before, { kind: 'cold' }, warming, since, minuteOfDay);
      const below = halfWayStep(begun, warming, since + MINUTE, 50, 60);
      const at = since + minutes * MINUTE;
      const reached = halfWayStep(halfWayStep(below, warming, at, 60, 60), warming, at + MINUTE, 62, 60);
      const end = since + whole * MINUTE;
      return warmUpStep(reached, warming, { kind: 'hot', since: end }, end, minuteOfDay);
    };
    const two = half(half(null, 1, 15, 40), 2, 19, 40);
    expect(two).toMatchObject({ halfSeconds: 19 * 60, usualHalfSeconds: 16 * 60 });
    expect(half(two, 3, 40, 90)).toMatchObject({ halfSeconds: 40 * 60, usualHalfSeconds: 16 * 60 });
  });

  it('are none of a heater that was hot when it was first seen', () => {
    expect(warmUpStep(null, null, { kind: 'hot', since: 0 }, 0, minuteOfDay)).toBeNull();
  });

  it('are not learned from the rest of one that was under way when the heater was first seen', () => {
    const since = DAY + 425 * MINUTE;
    const at = since + 15 * MINUTE;
    const seen = warmUpStep(null, null, { kind: 'warming', since }, since, minuteOfDay);
    const rest = warmUpStep(seen, { kind: 'warming', since }, { kind: 'hot', since: at }, at, minuteOfDay);
    expect(rest).toBeNull();
    expect(warmUp(rest, 2, 40)).toMatchObject({ usualSeconds: 2400, learned: 1 });
  });
});
