import { describe, expect, it } from 'vitest';
import { type FurthestOfDays, furthestStep, workReach, startFurthest } from './furthest-of-days.ts';

const HOUR = 3_600_000;
/** Beyond work that a value counts for. */
const MOST = 0.5;
/** Ten values a day, an hour apart. */
const afterDays = (...furthest: readonly number[]): FurthestOfDays =>
  furthest
    .flatMap((most, day) =>
      Array.from({ length: 10 }, (_, hour) => ({
        at: (24 * day + hour) * HOUR,
        value: hour === 4 ? most : 0,
      })),
    )
    .reduce((days, { at, value }) => furthestStep(days, at, value, MOST, at), startFurthest(0));

describe('the furthest of the days before', () => {
  it('leaves today out, however far it goes', () => {
    expect(afterDays(1, 2, 3)).toMatchObject({ days: 2, before: 2, today: 3 });
  });
  it('rises by what is no work a little a day only', () => {
    expect(afterDays(1, 1, 9, 0).before).toBeCloseTo(1.5 * 1 + MOST, 9);
    expect(afterDays(1, 1, 9, 9, 0).before).toBeCloseTo(1.5 * (1.5 * 1 + MOST) + MOST, 9);
  });
  it('fades slowly while no day goes as far', () => {
    const { before } = afterDays(4, 1, 1, 1);
    expect(before).toBeLessThan(4);
    expect(before).toBeGreaterThan(3);
  });
  it('counts no day on which hardly anything was measured', () => {
    const short = furthestStep(furthestStep(startFurthest(0), 0, 5, MOST, 0), 24 * HOUR, 0, MOST, 0);
    expect(short).toMatchObject({ days: 0, before: 0 });
  });
  it('counts no day at which nobody was seen at work', () => {
    const hours = Array.from({ length: 30 }, (_, hour) => hour * HOUR);
    const daysWith = (workedAt: number) =>
      hours.reduce((days, at) => furthestStep(days, at, 0.1, MOST, workedAt), startFurthest(HOUR));
    expect(daysWith(0).days).toBe(0);
    expect(daysWith(2 * HOUR).days).toBe(1);
  });
  it('reaches half as far again as the furthest of two days at most', () => {
    expect(workReach(afterDays(2, 1))).toBeNull();
    expect(workReach(afterDays(1, 2, 0))).toBeCloseTo(3, 9);
  });
});
