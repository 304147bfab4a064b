import { describe, expect, it } from 'vitest';
import { type DoorSigns, startDoorSigns } from './door-signs.ts';
import { findEarlyTakingOut } from './door-visits.ts';

const MINUTE = 60_000;
const WARM_AT = Date.parse('2026-03-02T08:00:00Z');
const NEEDED = 40;

/** A door after so many minutes; the top after it, kelvins above the usual one. */
type Door = readonly [minutes: number, top: number];
const COLD = -0.6;
const WARM = 0.4;

const cabinet = (doors: readonly Door[], step = 0.06): DoorSigns => ({
  ...startDoorSigns(WARM_AT, {
    celsius: 50,
    hottest: 50,
    spread: 0,
    fallsTo: 49,
    usualFall: Infinity,
    noise: 0.05,
    step,
  }),
  low: 49,
  high: 51,
  noise: 0.05,
  step,
  openings: doors.map(([minutes, top]) => ({ at: WARM_AT + minutes * MINUTE, lowest: 46, top: 51 + top })),
});
const early = (doors: readonly Door[], step?: number) =>
  findEarlyTakingOut(cabinet(doors, step), WARM_AT, NEEDED);

describe('the doors of a cabinet whose loads need 40 min', () => {
  it.each<{ what: string; doors: readonly Door[]; minutes: number | null }>([
    {
      what: 'a load in for 20 min',
      doors: [
        [60, COLD],
        [80, WARM],
      ],
      minutes: 20,
    },
    {
      what: 'a load in for 45 min',
      doors: [
        [60, COLD],
        [105, WARM],
      ],
      minutes: null,
    },
    {
      what: 'a load out after its time and the next one in',
      doors: [
        [60, COLD],
        [105, WARM],
        [120, COLD],
      ],
      minutes: null,
    },
    {
      what: 'the same with signs that mislead',
      doors: [
        [60, COLD],
        [105, -0.1],
        [120, 0.2],
      ],
      minutes: null,
    },
    {
      what: 'a second load in after the first, and out in half its time',
      doors: [
        [60, COLD],
        [105, WARM],
        [120, COLD],
        [140, WARM],
      ],
      minutes: 20,
    },
    {
      what: 'a look at a load',
      doors: [
        [60, COLD],
        [80, COLD],
      ],
      minutes: null,
    },
    {
      what: 'the second door of one visit',
      doors: [
        [60, COLD],
        [62, WARM],
      ],
      minutes: null,
    },
  ])('show of $what that it was taken out early after $minutes min', ({ doors, minutes }) => {
    expect(early(doors)).toBe(minutes);
  });

  it.each([
    { scatter: 0.05, minutes: null },
    { scatter: 0.3, minutes: 20 },
  ])(
    'show a look at a load by 0.25 K where the tops of a wide band lie $scatter K apart: $minutes',
    ({ scatter, minutes }) => {
      const shut = { learned: 10, mean: 51, scatter, since: WARM_AT, high: 51 };
      const signs = cabinet([
        [60, COLD],
        [80, -0.25],
      ]);
      expect(findEarlyTakingOut({ ...signs, low: 46, shut }, WARM_AT, NEEDED)).toBe(minutes);
    },
  );

  it('show a load that was taken out early after one that was taken out unseen, hours before', () => {
    const doors: readonly Door[] = [
      [60, COLD],
      [320, COLD],
      [340, WARM],
    ];
    expect(early(doors)).toBe(20);
  });

  it('count from when it became warm', () => {
    const signs = cabinet([
      [60, COLD],
      [80, WARM],
    ]);
    expect(findEarlyTakingOut(signs, WARM_AT + 70 * MINUTE, NEEDED)).toBe(null);
  });
});
