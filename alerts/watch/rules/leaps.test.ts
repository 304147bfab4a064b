// Readings that rise faster than their heater can: the probe was moved, and nothing climbs.

import { describe, expect, it } from 'vitest';
import type { Entry } from '../../../lab/entry.ts';
import { dipPot, labOf, probeOf, readingOf } from '../../../tests/rehearsal.ts';
import { waxWatch } from '../wax-watch.ts';

const HOUR = 3600;
/** Warms up at 1 K a minute from 20 °C, then cycles within 4 K about the middle. */
const pot =
  (middle: number, periodSeconds = 600) =>
  (second: number): number => {
    const swing = middle + 2 * (1 - 4 * Math.abs(((second / periodSeconds) % 1) - 0.5));
    return Math.min(20 + second / 60, swing);
  };
const twoPots = labOf(
  [
    { ...dipPot, id: 'pot-1', window_celsius: [75, 85] },
    { ...dipPot, id: 'pot-2', window_celsius: [84, 94] },
  ],
  [probeOf('p1', 'pot-1'), probeOf('p2', 'pot-2')],
);
const onePot = labOf([{ ...dipPot, window_celsius: [75, 85] }], [probeOf('p1', 'pot-1')]);

const readings = (probe: string, step: number, to: number, celsius: (second: number) => number) =>
  Array.from(
    { length: Math.floor(to / step) },
    (_, index): Entry => readingOf(probe, index * step, celsius(index * step)),
  );
const begun = (entries: readonly Entry[], lab: typeof onePot) =>
  waxWatch
    .stepAll(
      waxWatch.initial(),
      [...entries].sort((a, b) => a.receivedAt - b.receivedAt),
      lab,
    )
    .findings.filter(({ phase }) => phase === 'begins')
    .map(({ rule, subject, at }) => ({
      alarm: `${rule} ${subject}`,
      second: (at - (entries[0]?.receivedAt ?? 0)) / 1000,
    }));

type Course = (second: number) => number;
/** A probe that is moved at an instant takes a quarter of a minute to follow. */
const toward =
  (at: number, from: Course, to: Course): Course =>
  (second) =>
    second < at ? from(second) : to(second) + (from(at) - to(at)) * Math.exp((at - second) / 15);

describe('the probes of two pots', () => {
  const swapped = 5 * HOUR + 90;
  const [cooler, hotter] = [pot(80), pot(89, 900)];
  const entries = [
    ...readings('p1', 10, 6 * HOUR, (second) => (second < swapped ? cooler : hotter)(second)),
    ...readings('p2', 15, 6 * HOUR, (second) => (second < swapped ? hotter : cooler)(second)),
  ];
  it('that have changed places are both blamed within minutes, and no pot climbs', () => {
    const alarms = begun(entries, twoPots);
    expect(alarms.slice(0, 2).map(({ alarm }) => alarm)).toEqual(['probe-jump p1', 'probe-jump p2']);
    expect(alarms[1]?.second).toBeLessThan(swapped + 180);
    expect(alarms.map(({ alarm }) => alarm)).not.toContain('runaway pot-1');
  });

  it('that have changed places while one of them still warms up are both blamed', () => {
    const [molten, cold] = [5 * HOUR, 7 * HOUR];
    // Off from the fifth to the seventh hour, so that it comes back to 60 °C when the other is at 80 °C.
    const late = (second: number) =>
      second < molten ? pot(89, 900)(second) : Math.max(25, 89 - (second - molten) / 60);
    const warming = (second: number) =>
      second < cold ? late(second) : Math.min(89, 25 + (second - cold) / 60);
    const at = cold + 40 * 60;
    const alarms = begun(
      [
        ...readings('p1', 10, at + 600, toward(at, cooler, warming)),
        ...readings('p2', 15, at + 600, toward(at, warming, cooler)),
      ],
      twoPots,
    ).filter(({ second }) => second >= at);
    expect(
      alarms
        .slice(0, 2)
        .map(({ alarm }) => alarm)
        .sort(),
    ).toEqual(['probe-jump p1', 'probe-jump p2']);
    expect(alarms[1]?.second).toBeLessThan(at + 180);
  });

  it.each([
    { case: 'stand 4.5 K from each other', hotter: pot(84.5, 900), steps: [20, 30] },
    { case: 'stand 13 K from each other and are read once a minute', hotter: pot(93, 900), steps: [60, 60] },
  ] as const)('that $case and have changed places are both blamed', ({ hotter: other, steps }) => {
    const at = 5 * HOUR + 5;
    const alarms = begun(
      [
        ...readings('p1', steps[0], at + 600, toward(at, cooler, other)),
        ...readings('p2', steps[1], at + 600, toward(at, other, cooler)),
      ],
      twoPots,
    )
      .map(({ alarm }) => alarm)
      .filter((alarm) => alarm.startsWith('probe-jump'));
    expect(alarms.sort()).toEqual(['probe-jump p1', 'probe-jump p2']);
  });

  it('are not blamed where cold wax goes into one while the other heats', () => {
    const added = 5 * HOUR;
    const chilled = (second: number) =>
      pot(80)(second) - (second < added ? 0 : 6 * Math.exp((added - second) / 600));
    const alarms = begun(
      [...readings('p1', 10, 5.5 * HOUR, chilled), ...readings('p2', 15, 5.5 * HOUR, pot(80, 500))],
      twoPots,
    );
    expect(alarms.map(({ alarm }) => alarm)).not.toEqual(
      expect.arrayContaining([expect.stringContaining('probe-jump')]),
    );
  });
});

describe('the probes of two pots that are held 2 K apart', () => {
  const at = 5 * HOUR;
  /** Held steady by proportional control, with the noise of its probe; and turning by 1.5 K in 5 min. */
  const steady = (second: number) => Math.min(20 + second / 60, 81 + 0.05 * Math.sin(second * second));
  const turning = (second: number) =>
    Math.min(20 + second / 60, 83 + 0.75 * Math.sin((second / 300) * 2 * Math.PI));
  const leapt = (first: Course, second: Course) =>
    begun([...readings('p1', 10, at + 600, first), ...readings('p2', 20, at + 600, second)], twoPots)
      .filter(({ alarm }) => alarm.startsWith('probe-jump'))
      .map(({ alarm }) => alarm)
      .sort();
  it('and have changed places are both blamed', () => {
    const swapped = leapt(toward(at, steady, turning), toward(at, turning, steady));
    expect(swapped).toEqual(['probe-jump p1', 'probe-jump p2']);
  });
  it('are not blamed where cold wax takes the hotter one down to the other', () => {
    const chilled = (second: number) =>
      turning(second) - (second < at ? 0 : 2 * Math.exp((at - second) / 900));
    expect(leapt(steady, chilled)).toEqual([]);
  });
});

describe('two pots whose probes changed places and were put back overnight', () => {
  const [swapped, off, on] = [5 * HOUR, 11 * HOUR, 20 * HOUR];
  const day =
    (own: Course, other: Course): Course =>
    (second) => {
      if (second < swapped) return own(second);
      if (second < off) return other(second);
      return second < on ? Math.max(20, other(off) - (second - off) / 120) : own(second - on);
    };
  const [cooler, hotter] = [pot(83), pot(90, 900)];
  it('climb no further than usual on the next day', () => {
    const alarms = begun(
      [
        ...readings('p1', 20, 25 * HOUR, day(cooler, hotter)),
        ...readings('p2', 20, 25 * HOUR, day(hotter, cooler)),
      ],
      twoPots,
    );
    expect(alarms.map(({ alarm }) => alarm)).toEqual(
      expect.arrayContaining(['probe-jump p1', 'probe-jump p2']),
    );
    const climbs = alarms.filter(({ alarm, second }) => second > on && /^(heading-over|runaway)/.test(alarm));
    expect(climbs).toEqual([]);
  });
});

describe('a probe of a pot that is read twice a minute', () => {
  const since = 5 * HOUR;
  const shaken =
    (leaps: readonly number[]): Course =>
    (second) =>
      pot(80)(second) + (leaps[(second - since) / 30] ?? 0);
  it.each([
    { how: 'leaps to both sides of it', leaps: [9, 0, -7], isLoose: true },
    { how: 'leaps above it and falls below in two readings', leaps: [9, 0, -2, -4], isLoose: true },
    {
      how: 'falls and is back three times, as one that is lifted',
      leaps: [-9, 0, -9, 0, -9],
      isLoose: false,
    },
  ])('and $how within minutes is loose: $isLoose', ({ leaps, isLoose }) => {
    const alarms = begun(readings('p1', 30, since + 900, shaken(leaps)), onePot).map(({ alarm }) => alarm);
    expect(alarms.includes('probe-loose p1')).toBe(isLoose);
  });
});

describe('a pot with two probes', () => {
  const out = 5 * HOUR;
  const both = labOf(
    [{ ...dipPot, window_celsius: [75, 85] }],
    [probeOf('p1', 'pot-1'), probeOf('p2', 'pot-1')],
  );
  const inAir = (second: number) => 25 + 55 * Math.exp((out - second) / 60);
  const raised = (second: Course) =>
    begun([...readings('p1', 10, out + 1200, pot(80)), ...readings('p2', 10, out + 1200, second)], both).find(
      ({ alarm }) => alarm === 'probe-out pot-1',
    );
  it('of which one is lifted out is seen by that one within three minutes, though the other stays in the wax', () => {
    const alarm = raised((second) => (second < out ? pot(80)(second) : inAir(second)));
    expect((alarm?.second ?? Infinity) - out).toBeLessThan(180);
  });
  it('of which one never was in the wax is not', () => {
    expect(raised(() => 25)).toBeUndefined();
  });
});

describe('a probe in the air', () => {
  it('that cools slowly is out of the wax: wax would freeze on the way', () => {
    const out = 5 * HOUR;
    const slow = (second: number) =>
      second < out ? pot(80)(second) : 41 + 39 * Math.exp((out - second) / 420);
    expect(begun(readings('p1', 10, 6 * HOUR, slow), onePot).map(({ alarm }) => alarm)).toContain(
      'probe-out pot-1',
    );
  });
});

describe('a probe', () => {
  const moved = 5 * HOUR;
  /** Goes to 9 K above where it was with a time constant. */
  const leap = (lagSeconds: number) => (second: number) =>
    pot(80)(second) + (second < moved ? 0 : 9 * (1 - Math.exp((moved - second) / lagSeconds)));
  it.each([{ lagSeconds: 1 }, { lagSeconds: 20 }])(
    'that leaps by 9 K with a time constant of $lagSeconds s is blamed, and its pot does not climb',
    ({ lagSeconds }) => {
      const alarms = begun(readings('p1', 5, 6 * HOUR, leap(lagSeconds)), onePot).map(({ alarm }) => alarm);
      expect(alarms[0]).toBe('probe-jump p1');
      expect(alarms).not.toContain('runaway pot-1');
      expect(alarms).not.toContain('heading-over pot-1');
    },
  );
  it.each([{ step: 5 }, { step: 60 }])(
    'that is read every $step s follows a stuck thermostat, and is not blamed for the climb',
    ({ step }) => {
      const stuck = (second: number) => (second < moved ? pot(80)(second) : 78 + (second - moved) / 50);
      const alarms = begun(readings('p1', step, 5.3 * HOUR, stuck), onePot).map(({ alarm }) => alarm);
      expect(alarms[0]).toBe('heading-over pot-1');
      expect(alarms).not.toContain('probe-jump p1');
    },
  );

  /** Falls in the air, and leaps back into the wax some seconds later. */
  const lifted = (seconds: number, back: Course) => (second: number) => {
    const since = second - moved;
    if (since < 0) return pot(80)(second);
    return since < seconds ? 25 + 55 * Math.exp(-since / 60) : back(second);
  };
  it.each([
    { to: 'where it was', back: pot(80), blamed: false },
    {
      to: 'where it was within half a minute',
      back: (second: number) => pot(80)(second) - 27 * Math.exp((moved + 40 - second) / 9),
      blamed: false,
    },
    { to: '9 K above', back: (second: number) => pot(80)(second) + 9, blamed: true },
  ])('that is wiped for 40 s and comes back to $to has leapt: $blamed', ({ back, blamed }) => {
    const alarms = begun(readings('p1', 5, 5.5 * HOUR, lifted(40, back)), onePot).map(({ alarm }) => alarm);
    expect(alarms.includes('probe-jump p1')).toBe(blamed);
    expect(alarms).not.toContain('probe-out pot-1');
  });
});
