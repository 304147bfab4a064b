import { setImmediate as nextTurn } from 'node:timers/promises';
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { describe, expect, it } from 'vitest';
import { dayOfWork, WORKING_LAB } from '../../tests/bench/year/days-of-work.ts';
import type { WatchState } from './engine/state/memory.ts';
import { waxWatch } from './wax-watch.ts';

/** Parts of the state by name, with the length of each as JSON. */
const sizes = (state: WatchState): ReadonlyMap<string, number> =>
  new Map(Object.entries(state).map(([key, part]) => [key, JSON.stringify(part).length]));
const sum = (all: ReadonlyMap<string, number>): number => [...all.values()].reduce((a, b) => a + b, 0);

describe('what the watch remembers of a lab at work', () => {
  it('has the same parts after three weeks as after one, and is no larger by more than a twentieth', () => {
    let state: WatchState = waxWatch.initial();
    const sizesAfter = (days: number, from: number): ReadonlyMap<string, number> => {
      for (let day = from; day < days; day += 1)
        state = waxWatch.stepAll(state, dayOfWork(day, 2), WORKING_LAB).state;
      return sizes(state);
    };
    const early = sizesAfter(7, 0);
    const late = sizesAfter(21, 7);
    expect([...late.keys()].sort()).toEqual([...early.keys()].sort());
    // Heaters were at work, or there would be nothing to grow.
    expect(JSON.stringify(state)).toContain('"usual":{');
    expect(sum(late)).toBeLessThan(1.05 * sum(early));
  }, 120_000);

  it('holds on to no state that another has replaced, whatever bounds its rules drew from it', async () => {
    const collectGarbage = (): void => {
      setFlagsFromString('--expose-gc');
      runInNewContext('gc')();
    };
    let state: WatchState = waxWatch.initial();
    const replaced: WeakRef<WatchState>[] = [];
    for (const entry of dayOfWork(0).slice(0, 2000)) {
      replaced.push(new WeakRef(state));
      state = waxWatch.step(state, entry, WORKING_LAB).state;
    }
    // A weak reference holds what it names until its turn is over.
    await nextTurn();
    collectGarbage();
    expect(replaced.filter((each) => each.deref() !== undefined)).toHaveLength(0);
    expect(Object.keys(state)).not.toHaveLength(0);
  });
});
