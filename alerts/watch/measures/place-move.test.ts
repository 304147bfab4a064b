import { describe, expect, it } from 'vitest';
import { MILLIS_PER_MINUTE } from '../../../wax/units.ts';
import { moveStep, type PlaceMove } from './place-move.ts';

describe('a probe of a place that moved by 1.2 K at once', () => {
  const start = moveStep(undefined, 0, 20, 21.2, 0.5);
  /** Warmer by 0.1 K each minute from then on. */
  const movedFor = (minutes: number): PlaceMove | undefined => {
    let move = start;
    for (let minute = 1; minute <= minutes; minute += 1)
      move = moveStep(move, minute * MILLIS_PER_MINUTE, 21.1 + minute / 10, 21.2 + minute / 10, 0.5);
    return move;
  };
  it('moves on while it follows to where it hangs now', () => {
    expect(movedFor(10)).toMatchObject({ from: 20, to: 22.2 });
  });
  it('has come to rest a quarter of an hour later, however long its place warms up', () => {
    expect(movedFor(120)).toEqual(movedFor(15));
  });
  it('moves on no more once it turned', () => {
    expect(moveStep(start, MILLIS_PER_MINUTE, 21.2, 21.1, 0.5)).toEqual(start);
  });
});
