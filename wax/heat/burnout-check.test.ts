import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { burnoutCheck, type FurnaceReading } from './burnout-check.ts';

const MINUTE = 60_000;
/** One reading a minute. */
const course = (celsiusAt: (minute: number) => number, minutes: number): readonly FurnaceReading[] =>
  Array.from({ length: minutes + 1 }, (_, minute) => ({ at: minute * MINUTE, celsius: celsiusAt(minute) }));
/** 5 °C a minute from 20 to 700 °C, which takes 136 minutes, then the hold. */
const programme = (minute: number): number => Math.min(700, 20 + 5 * minute);
/** Held from 690 °C on, two minutes before 700. */
const STEP = { holdCelsius: 700, holdMinutes: 30, rampCelsiusPerHour: 330 };
const HOLD = [STEP];

describe('the check of a burnout', () => {
  it.each([
    [134 + 30, 'held'],
    [134 + 29, 'short'],
    [130, 'below'],
    [0, 'no-readings'],
  ])('after %d minutes of 5 °C a minute to 700 °C says %s', (minutes, state) => {
    expect(burnoutCheck(course(programme, minutes), HOLD).state).toBe(state);
  });

  it('counts the longest time without a break: a door that is opened begins it anew', () => {
    const opened = course((minute) => (minute === 150 ? 600 : programme(minute)), 170);
    const { state, heldMinutes } = burnoutCheck(opened, HOLD);
    expect(state).toBe('short');
    // The line back from 600 °C passes 690 °C six seconds before the whole minute.
    expect(heldMinutes).toBeCloseTo(170 - 150.9, 6);
  });

  it('leaves a pause in the readings open, and does not count it as heat', () => {
    const silent = course(programme, 200).filter(({ at }) => at < 150 * MINUTE || at > 180 * MINUTE);
    expect(burnoutCheck(silent, HOLD)).toMatchObject({ state: 'short', heldMinutes: 19 });
  });

  it('finds a climb that is faster than the programme of the maker', () => {
    expect(burnoutCheck(course(programme, 170), HOLD).steepestCelsiusPerHour).toBeCloseTo(300, 6);
    expect(burnoutCheck(course(programme, 170), HOLD).isTooSteep).toBe(false);
    expect(burnoutCheck(course(programme, 170), [{ ...STEP, rampCelsiusPerHour: 290 }]).isTooSteep).toBe(
      true,
    );
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

  it('takes a furnace that cycles by a few degrees about its hold as held', () => {
    const cycling = course((minute) => programme(minute) + (minute > 136 ? 6 * Math.sin(minute) : 0), 170);
    expect(burnoutCheck(cycling, HOLD).state).toBe('held');
  });

  it('leaves out what is no temperature', () => {
    const broken = course(programme, 170).map((reading) =>
      reading.at % (10 * MINUTE) === 0 ? { ...reading, celsius: Number.NaN } : reading,
    );
    expect(burnoutCheck(broken, HOLD)).toMatchObject({ state: 'held', peakCelsius: 700 });
  });

  it.each([
    [[]],
    [[{ holdCelsius: Number.NaN, holdMinutes: 30 }]],
    [[{ holdCelsius: 700, holdMinutes: null as unknown as number }]],
    [[{ holdCelsius: 700, holdMinutes: 30, rampCelsiusPerHour: -1 }]],
  ])('refuses a programme that is none: %j', (bad) => {
    expect(() => burnoutCheck(course(programme, 170), bad)).toThrow(RangeError);
  });
});

/** A course through corners, straight between them. */
const through = (...corners: readonly (readonly [minute: number, celsius: number])[]) =>
  course((minute) => {
    const after = corners.findIndex(([at]) => at >= minute);
    const [[fromMinute, from], [toMinute, to]] = [corners[Math.max(0, after - 1)], corners[after]] as [
      readonly [number, number],
      readonly [number, number],
    ];
    return fromMinute === toMinute
      ? to
      : from + ((to - from) * (minute - fromMinute)) / (toMinute - fromMinute);
  }, corners.at(-1)?.[0] ?? 0);

describe('the check of a burnout in steps', () => {
  const STEPS = [
    { holdCelsius: 250, holdMinutes: 40, rampCelsiusPerHour: 330 },
    { holdCelsius: 580, holdMinutes: 30, rampCelsiusPerHour: 450 },
    { holdCelsius: 850, holdMinutes: 45, rampCelsiusPerHour: 450 },
  ];
  /** 5 °C a minute to 250 °C, 7 °C a minute to 580 and to 850 °C. */
  const asProgrammed = (first: number, second: number, third: number) =>
    through(
      [0, 20],
      [46, 250],
      [46 + first, 250],
      [93 + first, 580],
      [93 + first + second, 580],
      [132 + first + second, 850],
      [132 + first + second + third, 850],
    );

  it('is held where each step was, with how long each was', () => {
    const check = burnoutCheck(asProgrammed(40, 30, 45), STEPS);
    expect(check.state).toBe('held');
    expect(check.steps.map(({ state }) => state)).toEqual(['held', 'held', 'held']);
    // At most the minutes in the band on the way in and out are more.
    for (const [index, least] of [40, 30, 45].entries())
      expect(check.steps[index]?.heldMinutes).toBeGreaterThanOrEqual(least);
  });

  it.each([
    ['first', [10, 30, 45] as const, ['short', 'held', 'held']],
    ['second', [40, 5, 45] as const, ['held', 'short', 'held']],
    ['third', [40, 30, 20] as const, ['held', 'held', 'short']],
  ])(
    'names the %s step when that is cut short, though the others were held',
    (_, [first, second, third], states) => {
      const check = burnoutCheck(asProgrammed(first, second, third), STEPS);
      expect(check.steps.map(({ state }) => state)).toEqual(states);
      expect(check.state).toBe('short');
    },
  );

  it('reports that the steps after a furnace that stopped were not reached', () => {
    const check = burnoutCheck(through([0, 20], [46, 250], [200, 250]), STEPS);
    expect(check.steps.map(({ state }) => state)).toEqual(['held', 'below', 'below']);
  });

  it('holds each climb against its own limit', () => {
    const fast = through([0, 20], [46, 250], [90, 250], [123, 580], [160, 580], [199, 850], [250, 850]);
    const check = burnoutCheck(fast, STEPS);
    expect(check.steps.map(({ isTooSteep }) => isTooSteep)).toEqual([false, true, false]);
    expect(check.isTooSteep).toBe(true);
  });

  it('takes a last step that the furnace cools to', () => {
    const cooling = [...STEPS.slice(1), { holdCelsius: 700, holdMinutes: 20 }];
    const course = through([0, 20], [80, 580], [115, 580], [154, 850], [202, 850], [232, 700], [255, 700]);
    expect(burnoutCheck(course, cooling).steps.map(({ state }) => state)).toEqual(['held', 'held', 'held']);
    const early = burnoutCheck(course.slice(0, -14), cooling);
    expect(early.steps.map(({ state }) => state)).toEqual(['held', 'held', 'short']);
  });
});
