// The reading end of the journal: from an offset on, in whole entries. It takes no lock and needs no writer in its
// thread; the caller passes how far the journal surely is on disk. Damage is skipped to the next line and reported.

import { closeSync, existsSync, openSync, readSync } from 'node:fs';
import type { Entry } from '../../lab/entry.ts';
import { parseEntry, splitFrames } from './frame.ts';
import type { DamagedSpan, Tail, TailReader } from './journal.ts';
import { type JournalSegment, segmentsIn, readSegment } from './segments.ts';

/** About a thousand entries: enough to share one transaction, too few to hold up a request. */
const CHUNK_BYTES = 256 * 1024;

interface OpenSegment extends JournalSegment {
  readonly handle: number;
  /** Offset of the next segment; Infinity for the newest, which still grows. */
  readonly until: number;
}

export const tailReader = (folder: string): TailReader => {
  let current: OpenSegment | null = null;

  const close = () => {
    if (current !== null) closeSync(current.handle);
    current = null;
  };

  /**
   * The segment that holds the offset, or the first one behind it when its own is gone. `isAnew`: the newest one known
   * came to its end, so the folder is listed to see whether another one has begun.
   */
  const openSegmentAt = (offset: number, isAnew: boolean): OpenSegment | null => {
    if (!isAnew && current !== null && offset >= current.base && offset < current.until) return current;
    const segments = segmentsIn(folder);
    const after = segments.findIndex(({ base }) => base > offset);
    const index = after === -1 ? segments.length - 1 : Math.max(0, after - 1);
    const found = segments[index];
    if (found === undefined) return null;
    const until = segments[index + 1]?.base ?? Infinity;
    if (current?.base === found.base) current = { ...current, until };
    else {
      close();
      current = { ...found, until, handle: openSync(found.file, 'r') };
    }
    return current;
  };

  const read = (from: number, end: number, bytes: number = CHUNK_BYTES): Tail =>
    readFrom(from, end, bytes, false);

  const readFrom = (from: number, end: number, bytes: number, isAnew: boolean): Tail => {
    const segment = from < end ? openSegmentAt(from, isAnew) : null;
    if (segment === null) return { entries: [], offsets: [], next: from, damaged: [] };
    if (from < segment.base) {
      const lost = Math.min(segment.base, end) - from;
      return { entries: [], offsets: [], next: from + lost, damaged: [{ at: from, bytes: lost }] };
    }
    const limit = Math.min(end, segment.until);
    for (let size = bytes; ; size *= 2) {
      const chunk = Buffer.allocUnsafe(Math.min(size, limit - from));
      const got = readSync(segment.handle, chunk, 0, chunk.length, from - segment.base);
      if (got < chunk.length && segment.until === Infinity && !isAnew)
        return readFrom(from, end, bytes, true);
      const reachedLimit = got < chunk.length || from + got >= limit;
      const frames = splitFrames(chunk.subarray(0, got), from);
      if (frames.after === from && !reachedLimit) continue;
      const damaged: DamagedSpan[] = [...frames.damaged];
      // A part of a line before a limit that is surely written is damage, not an entry still to come.
      const next = reachedLimit ? limit : frames.after;
      if (reachedLimit && frames.after < limit)
        damaged.push({ at: frames.after, bytes: limit - frames.after });
      const entries: Entry[] = frames.sound.map(({ json }) => parseEntry(json));
      return { entries, offsets: frames.sound.map(({ after }) => after), next, damaged };
    }
  };

  return { read, close };
};

/** What the folder holds of a journal, from its first byte to its last; nothing where there is none. */
export function* wholeJournal(folder: string): Generator<Tail> {
  const segments = existsSync(folder) ? segmentsIn(folder) : [];
  const [first, last] = [segments[0], segments.at(-1)];
  if (first === undefined || last === undefined) return;
  const end = last.base + readSegment(last).length;
  const reader = tailReader(folder);
  try {
    for (let at = first.base; at < end; ) {
      const tail = reader.read(at, end);
      yield tail;
      if (tail.next <= at) return;
      at = tail.next;
    }
  } finally {
    reader.close();
  }
}
