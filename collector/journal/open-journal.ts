// The writing end of the journal. Appends that come while the disk is busy share the next write and the next
// flush, so that the rate is not bound to one flush a message. One process writes; any thread may read.

import { fsyncSync, openSync, closeSync, mkdirSync, readFileSync, truncateSync } from 'node:fs';
import { type FileHandle, open, rm } from 'node:fs/promises';
import type { Entry } from '../../lab/entry.ts';
import { encodeFrames, splitFrames } from './frame.ts';
import { lockFolder } from './folder-lock.ts';
import type { Journal, TornTail } from './journal.ts';
import { JournalFailure, journalFailure } from './journal-failure.ts';
import { type JournalSegment, segmentAt, segmentsIn } from './segments.ts';

export interface JournalOptions {
  /** A segment is closed when it is longer than this. */
  readonly segmentBytes?: number;
  /**
   * Offset that some consumer has already applied. A journal that ends before it (lost, or restored from an older
   * copy) goes on from there, so that no new entry hides at an offset that counts as applied.
   */
  readonly atLeast?: number;
}

/** Small enough that a start scans the newest one in milliseconds and that disk space comes back soon. */
const SEGMENT_BYTES = 16 * 1024 * 1024;

interface Waiting {
  readonly bytes: Buffer;
  readonly resolve: (offset: number) => void;
  readonly reject: (error: unknown) => void;
}

/** Opens or makes the journal in a folder; a tail that a crash tore is cut off and reported. */
export const openJournal = async (folder: string, options: JournalOptions = {}): Promise<Journal> => {
  const { segmentBytes = SEGMENT_BYTES, atLeast = 0 } = options;
  const unlock = takeFolder(folder);
  let tornTail: TornTail | null;
  let segment: JournalSegment;
  let file: FileHandle;
  let end: number;
  try {
    const newest = segmentsIn(folder).at(-1);
    tornTail = newest === undefined ? null : cutTornTail(newest);
    segment = newest ?? segmentAt(folder, atLeast);
    file = await openSegment(folder, segment);
    end = segment.base + (await file.stat()).size;
    if (end < atLeast) await startSegment(atLeast);
  } catch (error) {
    unlock();
    throw journalFailure(folder, error);
  }

  let waiting: Waiting[] = [];
  let flushing: Promise<void> | null = null;

  async function startSegment(base: number): Promise<void> {
    const next = segmentAt(folder, base);
    const nextFile = await openSegment(folder, next);
    await file.close();
    segment = next;
    file = nextFile;
    end = base;
  }

  async function write(bytes: Buffer): Promise<void> {
    if (end - segment.base >= segmentBytes) await startSegment(end);
    const position = end - segment.base;
    try {
      for (let done = 0; done < bytes.length; ) {
        const { bytesWritten } = await file.write(bytes, done, bytes.length - done, position + done);
        done += bytesWritten;
      }
      await file.datasync();
    } catch (error) {
      // After a failed flush the system may believe that the pages are clean, so what was written is taken back
      // and must be written anew.
      await file.truncate(position).catch(() => {});
      throw error;
    }
    end += bytes.length;
  }

  async function flush(): Promise<void> {
    while (waiting.length > 0) {
      const group = waiting;
      waiting = [];
      let offset = end;
      try {
        const [first, ...others] = group.map(({ bytes }) => bytes);
        if (first !== undefined) await write(others.length === 0 ? first : Buffer.concat([first, ...others]));
        for (const { bytes, resolve } of group) {
          offset += bytes.length;
          resolve(offset);
        }
      } catch (error) {
        const failure = journalFailure(folder, error);
        for (const { reject } of group) reject(failure);
      }
    }
    flushing = null;
  }

  return {
    end: () => end,
    tornTail,
    append: (entries: readonly Entry[]) =>
      new Promise((resolve, reject) => {
        waiting.push({ bytes: encodeFrames(entries), resolve, reject });
        flushing ??= flush();
      }),
    dropBefore: async (offset) => {
      const segments = segmentsIn(folder);
      for (const [index, { file: old }] of segments.entries()) {
        const next = segments[index + 1];
        if (next === undefined || next.base > offset) return;
        await rm(old, { force: true });
      }
    },
    close: async () => {
      await flushing;
      await file.close();
      unlock();
    },
  };
};

function takeFolder(folder: string): () => void {
  try {
    mkdirSync(folder, { recursive: true });
    return lockFolder(folder);
  } catch (error) {
    throw error instanceof JournalFailure ? error : journalFailure(folder, error);
  }
}

/** Opens for writing at any place; a new name is made durable in its folder. */
async function openSegment(folder: string, { file }: JournalSegment): Promise<FileHandle> {
  try {
    return await open(file, 'r+');
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'ENOENT') throw error;
  }
  const handle = await open(file, 'wx+', 0o600);
  const folderHandle = openSync(folder, 'r');
  try {
    fsyncSync(folderHandle);
  } finally {
    closeSync(folderHandle);
  }
  return handle;
}

/** Only what follows the last sound entry is cut: damage before it is skipped by readers, who report it. */
function cutTornTail({ file, base }: JournalSegment): TornTail | null {
  const bytes = readFileSync(file);
  const length = splitFrames(bytes, 0).sound.at(-1)?.after ?? 0;
  if (length === bytes.length) return null;
  truncateSync(file, length);
  return { at: base + length, bytes: bytes.length - length };
}
