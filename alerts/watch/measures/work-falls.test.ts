import { describe, expect, it } from 'vitest';
import { MILLIS_PER_HOUR, MILLIS_PER_MINUTE } from '../../../wax/units.ts';
import { advanceFall, endFall, endStretch, startWorkFalls, type WorkFalls } from './work-falls.ts';

/** Half an hour at work: `resting` kelvins in each stretch but for one fall of `kelvins` at its beginning. */
function halfHour(workFalls: WorkFalls, at: number, kelvins: number, resting = 0.1, step = 0.1): void {
  for (let stretch = 0; stretch < 3; stretch += 1) {
    advanceFall(workFalls, resting, false);
    if (stretch === 0) {
      advanceFall(workFalls, kelvins, true);
      endFall(workFalls, at, true);
    }
    endStretch(workFalls, at + 10 * (stretch + 1) * MILLIS_PER_MINUTE, true, step);
  }
}
/** A day of falls of 1 K, and the next day others. */
function twoDays(nextDay: readonly number[], step?: number): WorkFalls {
  const workFalls = startWorkFalls();
  for (let half = 0; half < 16; half += 1) halfHour(workFalls, half * 30 * MILLIS_PER_MINUTE, 1, 0.1, step);
  nextDay.forEach((kelvins, half) => {
    halfHour(workFalls, 24 * MILLIS_PER_HOUR + half * 30 * MILLIS_PER_MINUTE, kelvins, 0.1, step);
  });
  return workFalls;
}
const falls = (count: number, kelvins: number): readonly number[] =>
  Array.from({ length: count }, () => kelvins);

describe('falls of a pot at work', () => {
  it('are judged from the seventh of a day on, against those of the days before', () => {
    expect(twoDays(falls(6, 1.5)).judged).toBeNull();
    expect(twoDays(falls(7, 1.5)).judged).toEqual({ kelvins: 1.5, usual: 1 });
  });
  it('are as usual while three of the newest seven are', () => {
    expect(twoDays([...falls(4, 1.5), ...falls(3, 1)]).judged?.kelvins).toBe(1);
    expect(twoDays([...falls(5, 1.5), ...falls(2, 1)]).judged?.kelvins).toBe(1.5);
  });
  it('leave out what is cut short and what cold wax makes', () => {
    expect(twoDays([...falls(6, 1.5), 0.4]).judged).toBeNull();
    expect(twoDays([...falls(6, 1.5), 2.4]).judged).toBeNull();
    expect(twoDays([0.4, ...falls(7, 1.5)]).judged).toEqual({ kelvins: 1.5, usual: 1 });
  });
  it('are no work where they are as steep as what ten minutes usually have', () => {
    const workFalls = startWorkFalls();
    for (let half = 0; half < 40; half += 1)
      halfHour(workFalls, half * 30 * MILLIS_PER_MINUTE, half < 16 ? 1 : 1.5, 0.9);
    expect(workFalls.falls.every(({ kelvins }) => kelvins > 1.7 * 0.9)).toBe(true);
    expect(workFalls.judged).toBeNull();
  });
  it('are as usual where they differ by one step of the probe', () => {
    expect(twoDays(falls(7, 1.5), 0.5).judged?.kelvins).toBe(1);
    expect(twoDays(falls(7, 2), 0.5).judged?.kelvins).toBe(2);
  });
  it('are judged no more an hour after the newest', () => {
    const workFalls = twoDays(falls(7, 1.5));
    const newest = workFalls.falls.at(-1)?.at ?? 0;
    endStretch(workFalls, newest + MILLIS_PER_HOUR + 1, true, 0.1);
    expect(workFalls.judged).toBeNull();
  });
  it('are not those of a heater that was switched off', () => {
    const workFalls = twoDays(falls(6, 1.5));
    advanceFall(workFalls, 1.5, true);
    endFall(workFalls, workFalls.falls.at(-1)?.at ?? 0, false);
    expect(workFalls.falls.filter(({ kelvins }) => kelvins === 1.5)).toHaveLength(6);
  });
});
