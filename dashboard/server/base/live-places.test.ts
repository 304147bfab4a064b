import { describe, expect, it } from 'vitest';
import { limitReached, type Place } from './live-places.ts';

const person = (owner: string): Place => ({ isWall: false, owner });
const wall = (owner: string): Place => ({ isWall: true, owner });
const VISITOR: Place = { isWall: false, owner: null };
const times = (count: number, place: (index: number) => Place): readonly Place[] =>
  Array.from({ length: count }, (_, index) => place(index));

describe('places on the live stream', () => {
  it('are ten at most for one person, program or wall link, and leave room for every other', () => {
    const taken = times(10, () => person('mara'));
    expect(limitReached(taken, person('mara'), 100)).toBe(10);
    expect(limitReached(taken.slice(1), person('mara'), 100)).toBeNull();
    expect(limitReached(taken, person('tom'), 100)).toBeNull();
  });

  it('are kept for walls in part, however many persons and visitors ask', () => {
    const taken = times(80, (index) => person(`person-${index}`));
    expect(limitReached(taken, person('tom'), 100)).toBe(80);
    expect(limitReached(taken, VISITOR, 100)).toBe(80);
    expect(limitReached(taken, wall('door'), 100)).toBeNull();
    const full = [...taken, ...times(20, (index) => wall(`wall-${index}`))];
    expect(limitReached(full, wall('door'), 100)).toBe(100);
  });

  it('of visitors of a demonstration count together only against the whole', () => {
    expect(
      limitReached(
        times(79, () => VISITOR),
        VISITOR,
        100,
      ),
    ).toBeNull();
  });
});
