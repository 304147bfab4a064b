import { describe, expect, it } from 'vitest';
import type { Entry } from '../../lab/entry.ts';
import { epochMillis } from '../../wax/units.ts';
import { parseEntry, splitFrames } from '../journal/frame.ts';
import type { Journal } from '../journal/journal.ts';
import { JournalFailure } from '../journal/journal-failure.ts';
import { CommitQueue } from './commit-queue.ts';

const tick = (index: number): Entry => ({ kind: 'tick', receivedAt: epochMillis(index) });

/** A journal in memory on a disk that refuses the given number of appends. */
const queueOn = (refusals: number, capacity?: number) => {
  const groups: (readonly Entry[])[] = [];
  const troubles: (string | null)[] = [];
  const waits: number[] = [];
  let left = refusals;
  const journal: Journal = {
    end: () => groups.flat().length,
    synced: () => groups.flat().length,
    tornTail: null,
    append: async () => groups.flat().length,
    appendFrames: async (frames) => {
      left -= 1;
      if (left >= 0) throw new JournalFailure('journal-disk-full', { folder: 'journal' });
      groups.push(splitFrames(frames, 0).sound.map(({ json }) => parseEntry(json)));
      return groups.flat().length;
    },
    dropBefore: async () => {},
    close: async () => {},
  };
  const queue = new CommitQueue({
    journal,
    onCommit: () => {},
    onTrouble: (problem) => troubles.push(problem?.code ?? null),
    delay: async (millis) => {
      waits.push(millis);
    },
    ...(capacity === undefined ? {} : { capacity }),
  });
  return { queue, groups, troubles, waits };
};

describe('the queue of messages before the journal', () => {
  it('commits what comes in any step of the program after a commit, with nothing behind it', async () => {
    for (let steps = 0; steps < 6; steps += 1) {
      const { queue, groups } = queueOn(0);
      const later = new Promise<void>((resolve) => {
        queue.add([tick(0)], () => {
          let step = Promise.resolve();
          for (let index = 0; index < steps; index += 1) step = step.then(() => {});
          void step.then(() => queue.add([tick(1)], resolve));
        });
      });
      await later;
      expect(groups).toEqual([[tick(0)], [tick(1)]]);
    }
  });

  it('commits what arrives together at once, and reports it in order', async () => {
    const { queue, groups } = queueOn(0);
    const reported: number[] = [];
    for (const index of [0, 1, 2]) queue.add([tick(index)], () => reported.push(index));
    await queue.idle();
    expect(groups).toEqual([[tick(0), tick(1), tick(2)]]);
    expect(reported).toEqual([0, 1, 2]);
  });

  it('reports nothing while the disk refuses, waits longer each time, and keeps the order', async () => {
    const { queue, groups, troubles, waits } = queueOn(3);
    const reported: number[] = [];
    queue.add([tick(0)], () => {
      expect(troubles.at(-1)).toBe(null);
      reported.push(0);
    });
    queue.add([tick(1)], () => reported.push(1));
    await queue.idle();
    expect(groups.flat()).toEqual([tick(0), tick(1)]);
    expect(reported).toEqual([0, 1]);
    expect(troubles).toEqual(['journal-disk-full', 'journal-disk-full', 'journal-disk-full', null]);
    expect(waits).toEqual([250, 500, 1000]);
  });

  it('reports messages without entries too, and writes nothing for them', async () => {
    const { queue, groups } = queueOn(0);
    let isReported = false;
    queue.add([], () => {
      isReported = true;
    });
    await queue.idle();
    expect(isReported).toBe(true);
    expect(groups).toEqual([]);
  });

  it('is full at its capacity and has space again after the commit', async () => {
    const { queue } = queueOn(0, 4);
    queue.add([tick(0)], () => {});
    expect(queue.isFull).toBe(false);
    queue.add([tick(1)], () => {});
    expect(queue.isFull).toBe(true);
    await queue.whenFree();
    expect(queue.isFull).toBe(false);
  });
});
