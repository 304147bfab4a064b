import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { burnoutCheck, type FurnaceReading } from './burnout-check.ts';

const MINUTE = 60_000;
/** One reading a minute. */
const course = (celsiusAt: (minute: number) => number, minutes: number): readonly FurnaceReading[] =>
  Array.from({ length: minutes + 1 }, (_, minute) => ({ at: minute * MINUTE, celsius: celsiusAt(minute) }));
/** 5 °C a minute from 20 to 700 °C, which takes 136 minutes, then the hold. */
const programme = (minute: number): number => Math.min(700, 20 + 5 * minute);
const HOLD = { holdCelsius: 700, holdMinutes: 30, rampCelsiusPerHour: 330 };

describe('the check of a burnout', () => {
  it.each([
    [136 + 30, 'held'],
    [136 + 29, 'short'],
    [130, 'below'],
    [0, 'no-readings'],
  ])('after %d minutes of 5 °C a minute to 700 °C says %s', (minutes, state) => {
    expect(burnoutCheck(course(programme, minutes), HOLD).state).toBe(state);
  });

  it('counts the longest time without a break: a door that is opened begins it anew', () => {
    const opened = course((minute) => (minute === 150 ? 600 : programme(minute)), 170);
    const { state, heldMinutes } = burnoutCheck(opened, HOLD);
    expect(state).toBe('short');
    expect(heldMinutes).toBeCloseTo(170 - 151, 6);
  });

  it('knows nothing of a pause in the readings, and does not count it as heat', () => {
    const silent = course(programme, 200).filter(({ at }) => at < 150 * MINUTE || at > 180 * MINUTE);
    expect(burnoutCheck(silent, HOLD)).toMatchObject({ state: 'short', heldMinutes: 19 });
  });

  it('finds a climb that is faster than the programme of the maker', () => {
    expect(burnoutCheck(course(programme, 170), HOLD).steepestCelsiusPerHour).toBeCloseTo(300, 6);
    expect(burnoutCheck(course(programme, 170), HOLD).isTooSteep).toBe(false);
    expect(burnoutCheck(course(programme, 170), { ...HOLD, rampCelsiusPerHour: 290 }).isTooSteep).toBe(true);
  });

  it('never counts longer than it was measured, and no less when it goes on', () => {
    const celsius = fc.array(fc.double({ min: 0, max: 1000, noNaN: true }), { minLength: 2, maxLength: 60 });
    fc.assert(
      fc.property(celsius, (values) => {
        const readings = values.map((value, minute) => ({ at: minute * MINUTE, celsius: value }));
        const { heldMinutes } = burnoutCheck(readings, HOLD);
        expect(heldMinutes).toBeLessThanOrEqual(readings.length - 1);
        const shorter = burnoutCheck(readings.slice(0, -1), HOLD);
        expect(heldMinutes).toBeGreaterThanOrEqual(shorter.heldMinutes - 1e-9);
      }),
    );
  });
});
