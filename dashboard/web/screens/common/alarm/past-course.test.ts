// How long an alarm that is over was so, and which of its readings went farthest.

import { describe, expect, it } from 'vitest';
import { findFarthest, secondsSo } from './past-course.ts';

const at = (clock: string) => `2031-03-03T${clock}:00.000Z`;
const line = (clock: string, kind: string) => ({ at: at(clock), kind, by: null, reason: null });
const alarm = (raised: string, cleared: string | null, history: readonly ReturnType<typeof line>[]) => ({
  raisedAt: at(raised),
  clearedAt: cleared === null ? null : at(cleared),
  history: [...history],
});

describe('the time in which an alarm was so', () => {
  it('runs from the first raise to the end', () => {
    const history = [line('08:00', 'raised'), line('08:10', 'acknowledged'), line('08:52', 'cleared')];
    expect(secondsSo(alarm('08:00', '08:52', history))).toBe(52 * 60);
  });
  it('leaves out the time between an end and the next raise', () => {
    const history = [
      line('08:00', 'raised'),
      line('08:10', 'cleared'),
      line('09:00', 'raised-again'),
      line('09:05', 'cleared'),
    ];
    expect(secondsSo(alarm('08:00', '09:05', history))).toBe(15 * 60);
  });
  it('counts on through a raise while it is still so', () => {
    const history = [line('08:00', 'raised'), line('08:30', 'raised-again'), line('08:40', 'cleared')];
    expect(secondsSo(alarm('08:00', '08:40', history))).toBe(40 * 60);
  });
  it('of one that was learned of late, is its own and not that of the learning', () => {
    expect(secondsSo(alarm('02:00', '02:20', [line('07:00', 'learned')]))).toBe(20 * 60);
  });
  it('without a history is the span alone', () => {
    expect(secondsSo(alarm('08:00', '08:01', []))).toBe(60);
  });
});

describe('the reading that went farthest', () => {
  const bucket = (clock: string, min: number, max: number) => ({
    at: at(clock),
    min,
    max,
    mean: (min + max) / 2,
    count: 2,
    doubtful: 0,
  });
  const buckets = [bucket('08:00', 98, 101), bucket('08:20', 99, 103.4), bucket('08:40', 91, 103.4)];

  it('is the first that was as high, or as low, as any', () => {
    expect(findFarthest({ buckets }, 'highest')).toEqual({ celsius: 103.4, at: at('08:20') });
    expect(findFarthest({ buckets }, 'lowest')).toEqual({ celsius: 91, at: at('08:40') });
  });
  it('is none where nothing was measured', () => {
    expect(findFarthest({ buckets: [] }, 'highest')).toBeNull();
  });
});
