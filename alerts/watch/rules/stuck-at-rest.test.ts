// A probe in a pot that is off: what its readings did at work says nothing about how still it may lie.

import { describe, expect, it } from 'vitest';
import { clock, every, HOUR } from '../../../tests/figure-traces/trace.ts';
import { dipPot, labOf, probeOf } from '../../../tests/rehearsal.ts';
import { waxWatch } from '../wax-watch.ts';

const lab = labOf([dipPot], [probeOf('p1', 'pot-1')]);
/** A day that nobody works, from which on it reads the same. */
const STILL_FROM = clock(3, 0);

/** Ten hours of work on each of three days, at which each reading differs; at night as given. */
const days =
  (atNight: (second: number) => number) =>
  (second: number): number => {
    if (second >= STILL_FROM) return 19;
    const hour = (second / HOUR + 9) % 24;
    return hour >= 8 && hour < 18 ? 90 + 2 * Math.sin(second) : atNight(second);
  };
const begunAfter = (atNight: (second: number) => number): readonly number[] =>
  waxWatch
    .stepAll(waxWatch.initial(), every(15, clock(0, 8), STILL_FROM + 14 * HOUR, days(atNight)), lab)
    .findings.filter(({ rule, phase }) => rule === 'probe-stuck' && phase === 'begins')
    .map(({ at, evidence }) => (at - Number(evidence.since_at)) / 3_600_000);

describe('a probe that reads the same in a pot that is off', () => {
  it('is not stuck where it changed once in an hour in the nights before, however lively it was at work', () => {
    expect(begunAfter((second) => 19 + (Math.floor(second / HOUR) % 2) / 16)).toEqual([]);
  });
  it('is stuck, once, where each reading differed in the nights before', () => {
    const hours = begunAfter((second) => 19 + Math.round(8 * Math.sin(second * second)) / 64);
    expect(hours).toHaveLength(1);
    expect(hours[0]).toBeLessThan(1);
  });
});
