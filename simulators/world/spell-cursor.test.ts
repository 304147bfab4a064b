import { describe, expect, it } from 'vitest';
import { spellCursor } from './spell-cursor.ts';

describe('what holds at an instant', () => {
  it('is what the spells around it set, the end not included, and what is usual outside them', () => {
    const cursor = spellCursor([{ from: 10, to: 20, set: { on: true } }]);
    expect([9, 10, 19, 20].map((at) => cursor.inputAt(at).on)).toEqual([false, true, true, false]);
  });

  it('is set by the later in the list where two overlap, whichever began first', () => {
    const cursor = spellCursor([
      { from: 10, to: 40, set: { shiftCelsius: 5 } },
      { from: 0, to: 30, set: { shiftCelsius: -1 } },
    ]);
    expect([5, 15, 35, 45].map((at) => cursor.inputAt(at).shiftCelsius)).toEqual([-1, -1, 5, 0]);
  });

  it('happens in one step only where a spell has no length', () => {
    const cursor = spellCursor([{ from: 12, to: 12, set: { ladledShare: 0.1 } }]);
    expect([10, 14, 16].map((at) => cursor.inputAt(at).ladledShare)).toEqual([0, 0.1, 0]);
  });

  it('does not take two things of one instant for one another when a step passes both', () => {
    const cursor = spellCursor([
      { from: 11, to: 11, set: { addedShare: 0.1 } },
      { from: 12, to: 12, set: { ladledShare: 0.2 } },
      { from: 5, to: 100, set: { on: true } },
    ]);
    expect(cursor.inputAt(10).on).toBe(true);
    const { addedShare, ladledShare, on } = cursor.inputAt(20);
    expect([addedShare, ladledShare, on]).toEqual([0.1, 0.2, true]);
  });
});
