// A pot that the lab wants ready at ten, on the first day that it is watched.

import { describe, expect, it } from 'vitest';
import type { Entry } from '../../../lab/entry.ts';
import type { Lab } from '../../../lab/lab.ts';
import { dipPot, labOf, probeOf } from '../../../tests/rehearsal.ts';
import { clock, every, inTime, MINUTE } from '../../../tests/figure-traces/trace.ts';
import { waxWatch } from '../wax-watch.ts';

const ROOM = 20;
const labWanting = (ready_by?: string): Lab =>
  labOf([{ ...dipPot, ...(ready_by !== undefined && { ready_by }) }], [probeOf('p1', 'pot-1')]);
const TEN = labWanting('10:00');
/** Minutes before (−) and after ten at which each finding of the rule came. */
const findingsOf = (entries: readonly Entry[], lab: Lab) =>
  waxWatch
    .stepAll(waxWatch.initial(), entries, lab)
    .findings.filter(({ rule }) => rule === 'not-ready')
    .map(({ at, phase, evidence }) => ({
      phase,
      minutes: (at - (entries[0]?.receivedAt ?? 0)) / 60_000 - 150,
      evidence,
    }));
const begins = (entries: readonly Entry[], lab: Lab = TEN) =>
  findingsOf(entries, lab).filter(({ phase }) => phase === 'begins');
const day = (course: (second: number) => number, probe = 'p1') =>
  every(30, clock(0, 7.5), clock(0, 13), course, probe);
/** Switched on at an hour, with so many kelvins a minute. */
const switchedOn =
  (hour: number, kelvinsAMinute: number) =>
  (second: number): number =>
    Math.min(90, ROOM + (Math.max(0, second - clock(0, hour)) / MINUTE) * kelvinsAMinute);

describe('a heater that is to be ready at ten', () => {
  it('is announced within the quarter of an hour before when it is still cold', () => {
    const [first, ...others] = begins(day(() => ROOM));
    expect(first?.minutes).toBeGreaterThan(-15);
    expect(first?.minutes).toBeLessThanOrEqual(-11);
    expect(first?.evidence).toMatchObject({ value_celsius: ROOM });
    expect(others).toEqual([]);
  });
  it.each([
    { hour: 9, rate: 3, raised: false },
    { hour: 9.5, rate: 3, raised: false },
    { hour: 9, rate: 0.2, raised: true },
  ])('switched on at $hour with $rate K a minute is announced: $raised', ({ hour, rate, raised }) => {
    expect(begins(day(switchedOn(hour, rate))).length > 0).toBe(raised);
  });
  it('is announced before its time when it dies on the way', () => {
    const dies = (second: number): number => switchedOn(9.25, 2)(Math.min(second, clock(0, 9.4)));
    const [first] = begins(day(dies));
    expect(first?.minutes).toBeLessThan(0);
  });
  it('is over once it warms up as it should', () => {
    const findings = findingsOf(day(switchedOn(10.25, 3)), TEN);
    expect(findings.map(({ phase }) => phase)).toEqual(['begins', 'ends']);
  });
  it.each([
    { lab: labWanting(), what: 'no time is entered' },
    { lab: { ...TEN, site: { ...TEN.site, holidays: ['2026-03-04'] } }, what: 'the lab is closed all day' },
  ])('is not announced where $what', ({ lab }) => {
    expect(
      begins(
        day(() => ROOM),
        lab,
      ),
    ).toEqual([]);
  });
  it('is announced before midnight when it is to be ready soon after', () => {
    const night = [['00:00', '24:00']] as const;
    const open = { mon: night, tue: night, wed: night, thu: night, fri: night, sat: night, sun: night };
    const lab = labWanting('00:05');
    const cold = every(30, clock(0, 22), clock(0, 24), () => ROOM);
    const [first] = begins(cold, { ...lab, site: { ...lab.site, workingHours: open } });
    // Minutes of `begins` count from two hours and a half after the first reading.
    expect(first?.minutes).toBeLessThan(-30);
  });
  it('is not announced when all others are cold as well: a day off that nobody entered', () => {
    const others = { ...dipPot, id: 'pot-2' };
    const lab = labOf([...TEN.stations, others], [probeOf('p1', 'pot-1'), probeOf('p2', 'pot-2')]);
    const cold = day(() => ROOM);
    expect(
      begins(
        inTime(
          cold,
          day(() => ROOM, 'p2'),
        ),
        lab,
      ),
    ).toEqual([]);
    expect(begins(inTime(cold, day(switchedOn(8.5, 3), 'p2')), lab)).toHaveLength(1);
  });
});
