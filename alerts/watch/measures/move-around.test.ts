import { describe, expect, it } from 'vitest';
import { expectedMove, followedBefore } from './move-around.ts';
import { TEN_MINUTES_MILLIS, type TenMinutes } from './ten-minutes.ts';

const HOUR = 3_600_000;
const SINCE = 24 * HOUR;
/** A day and six hours of a place, ten minutes at a time. */
const course = (celsius: (hour: number) => number): readonly TenMinutes[] =>
  Array.from({ length: 180 }, (_, index) => {
    const at = index * TEN_MINUTES_MILLIS;
    const value = celsius(at / HOUR);
    return { at, low: value, high: value, sum: value, count: 1 };
  });
/** Up and down by 4 K over the day before, then falling by 0.5 K an hour. */
const room = course((hour) =>
  hour < 24 ? 20 + 2 * Math.sin((hour / 24) * 2 * Math.PI) : 20 - (hour - 24) / 2,
);

describe('the move that a place is expected to have made', () => {
  it.each([
    { follows: 'wholly', share: 1 },
    { follows: 'by half', share: 0.5 },
    { follows: 'by more', share: 2, counted: 1 },
  ])('is that of a place that it follows $follows', ({ share, counted = share }) => {
    const own = course((hour) => (hour < 24 ? 20 + 2 * share * Math.sin((hour / 24) * 2 * Math.PI) : 20));
    expect(expectedMove(own, room, SINCE)).toBeCloseTo(counted * 2.49, 1);
  });

  it('is nothing of a place that was aired for twenty minutes', () => {
    const own = course((hour) => 20 + 2 * Math.sin((hour / 24) * 2 * Math.PI));
    const aired = course((hour) => {
      if (hour < 24) return 20 + 2 * Math.sin((hour / 24) * 2 * Math.PI);
      return hour > 29.2 && hour < 29.6 ? 16 : 20;
    });
    expect(expectedMove(own, aired, SINCE)).toBeLessThan(0.5);
  });

  it('is nothing of a place that never followed', () => {
    expect(
      expectedMove(
        course(() => 20),
        room,
        SINCE,
      ),
    ).toBe(0);
  });

  it('is not known of a few hours, of a place that hardly moved before, or without readings since', () => {
    const own = course((hour) => 20 + Math.sin((hour / 24) * 2 * Math.PI));
    expect(expectedMove(own.slice(100), room, SINCE)).toBeNull();
    expect(
      expectedMove(
        own,
        course((hour) => (hour < 24 ? 20 : 15)),
        SINCE,
      ),
    ).toBeNull();
    expect(expectedMove(own, room.slice(0, 144), SINCE)).toBeNull();
  });
});

describe('a place', () => {
  it.each([
    {
      what: 'an hour behind the room',
      celsius: (hour: number) => 20 + Math.sin(((hour - 1) / 24) * 2 * Math.PI),
      follows: true,
    },
    { what: 'regulated', celsius: (hour: number) => 12 + Math.sin(hour * 7), follows: false },
  ])('that is $what followed it before: $follows', ({ celsius, follows }) => {
    expect(followedBefore(room, course(celsius), SINCE)).toBe(follows);
  });
  it('of which less than six hours are known has not followed', () => {
    expect(followedBefore(room.slice(0, 30), room, SINCE)).toBe(false);
  });
});
