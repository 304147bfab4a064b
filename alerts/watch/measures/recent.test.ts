import { describe, expect, it } from 'vitest';
import {
  advanceRecent,
  hasEasedOff,
  highestWithin,
  lowestWithin,
  reachOf,
  type Recent,
  startRecent,
} from './recent.ts';

const MINUTE = 60_000;
const feed = (seconds: number, celsius: (second: number) => number, from = 0): Recent => {
  const recent = startRecent(from * 1000, celsius(from));
  for (let second = from + 5; second <= from + seconds; second += 5)
    advanceRecent(recent, second * 1000, celsius(second));
  return recent;
};

describe('the last minutes of a station', () => {
  it('have a highest and a lowest within any number of minutes that they reach back', () => {
    const recent = feed(480, (second) => second / 60);
    const now = 480_000;
    expect(highestWithin(recent, now, 8 * MINUTE)).toBeCloseTo(8, 0);
    expect(lowestWithin(recent, now, 2 * MINUTE)).toBeCloseTo(6, 0);
    expect(lowestWithin(recent, now, 4 * MINUTE)).toBeCloseTo(4, 0);
    expect(highestWithin(recent, now + 60 * MINUTE, MINUTE)).toBe(Number.NEGATIVE_INFINITY);
  });

  it('reach back at least seven minutes and stay a short list, however often readings come', () => {
    const recent = feed(7200, () => 90);
    expect(reachOf(recent, 7_200_000)).toBeGreaterThan(7 * MINUTE);
    expect(recent.at.length).toBeLessThanOrEqual(40);
    expect(recent.celsius).toHaveLength(recent.at.length);
  });

  it('have a mean that a thermostat does not move and a step reaches within some minutes', () => {
    const swinging = feed(3600, (second) => 90 + 5 * Math.sin(second / 20));
    expect(Math.abs(swinging.mean - 90)).toBeLessThan(0.5);
    const stepped = feed(3600, (second) => (second < 3000 ? 80 : 90));
    expect(stepped.mean).toBeCloseTo(90 - 10 * Math.exp(-2), 0);
  });

  it('forget the mean of before a long silence', () => {
    const recent = feed(600, () => 90);
    advanceRecent(recent, 600_000 + 30 * MINUTE, 20);
    expect(recent.mean).toBe(20);
  });

  it('show that a climb eases off before its top, as after hot wax, and of an even climb that it does not', () => {
    const poured = (second: number) => 70 + 3 * (1 - Math.exp(-Math.max(0, second - 300) / 30));
    expect(hasEasedOff(feed(390, poured), 390_000, poured(390))).toBe(true);
    expect(hasEasedOff(feed(315, poured), 315_000, poured(315))).toBe(false);
    const heated = (second: number) => 70 + Math.max(0, second - 300) / 40;
    for (const second of [330, 360, 390, 420])
      expect(hasEasedOff(feed(second, heated), second * 1000, heated(second))).toBe(false);
  });

  it('show that a climb is over once the value stands no higher than two minutes before', () => {
    const over = (second: number) => 75 - Math.max(0, second - 300) / 600;
    expect(hasEasedOff(feed(900, over), 900_000, over(900))).toBe(true);
  });

  it('show no easing off where they do not reach back far enough', () => {
    expect(hasEasedOff(startRecent(0, 70), 10_000, 71)).toBe(false);
  });
});
