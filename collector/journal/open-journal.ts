// The writing end of the journal. Appends that come while the disk is busy share the next write and the next
// flush, so that the rate is not bound to one flush a message. One process writes: whoever opens it holds the lock of
// the data folder. Any thread may read.

import { statSync, truncateSync } from 'node:fs';
import { rm } from 'node:fs/promises';
import { forceToDisk, makeFolder } from '../../lab/database/durable-file.ts';
import { encodeFrames, splitFrames } from './frame.ts';
import type { Journal, TornTail } from './journal.ts';
import { journalFailure } from './journal-failure.ts';
import { SegmentWriter } from './segment-writer.ts';
import { type JournalSegment, segmentAt, segmentsIn, readSegment } from './segments.ts';

export interface JournalOptions {
  /** A segment is closed when it is longer than this. */
  readonly segmentBytes?: number;
  /**
   * Offset that some consumer has already applied. A journal that ends before it (lost, or restored from an older
   * copy) goes on from there, so that no new entry hides at an offset that counts as applied.
   */
  readonly atLeast?: number;
  /** Entries are forced to disk at the latest after so long; 0, as when absent: before `append` answers. */
  readonly syncMillis?: number;
}

/** Small enough that a start scans the newest one in milliseconds and that disk space is freed soon. */
const SEGMENT_BYTES = 16 * 1024 * 1024;

interface Waiting {
  readonly bytes: Buffer;
  readonly resolve: (offset: number) => void;
  readonly reject: (error: unknown) => void;
}

/** Opens or makes the journal in a folder; a tail that a crash tore is cut off and reported. */
export const openJournal = async (folder: string, options: JournalOptions = {}): Promise<Journal> => {
  let opened: OpenedWriter;
  try {
    makeFolder(folder);
    opened = await openWriter(folder, options);
  } catch (error) {
    throw journalFailure(folder, error);
  }
  const { writer, tornTail } = opened;
  let waiting: Waiting[] = [];
  let flushing: Promise<void> | null = null;

  async function flush(): Promise<void> {
    while (waiting.length > 0) {
      const group = waiting;
      waiting = [];
      let offset = writer.end;
      try {
        const [first, ...others] = group.map(({ bytes }) => bytes);
        if (first !== undefined)
          await writer.write(others.length === 0 ? first : Buffer.concat([first, ...others]));
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

  const appendFrames = (bytes: Buffer): Promise<number> =>
    new Promise((resolve, reject) => {
      waiting.push({ bytes, resolve, reject });
      flushing ??= flush();
    });
  return {
    end: () => writer.end,
    synced: () => writer.synced,
    tornTail,
    append: (entries) => appendFrames(encodeFrames(entries)),
    appendFrames,
    dropBefore: (offset) => dropSegmentsBefore(folder, offset),
    close: async () => {
      await flushing;
      await writer.close();
    },
  };
};

interface OpenedWriter {
  readonly writer: SegmentWriter;
  readonly tornTail: TornTail | null;
}

async function openWriter(
  folder: string,
  { segmentBytes = SEGMENT_BYTES, atLeast = 0, syncMillis = 0 }: JournalOptions,
): Promise<OpenedWriter> {
  const newest = segmentsIn(folder).at(-1);
  const tornTail = newest === undefined ? null : cutTornTail(newest);
  const segment = newest ?? segmentAt(folder, atLeast);
  const writer = await SegmentWriter.open(folder, segment, { segmentBytes, syncMillis });
  if (writer.end < atLeast) await writer.startSegment(atLeast);
  return { writer, tornTail };
}

async function dropSegmentsBefore(folder: string, offset: number): Promise<void> {
  const segments = segmentsIn(folder);
  for (const [index, { file }] of segments.entries()) {
    const next = segments[index + 1];
    if (next === undefined || next.base > offset) return;
    await rm(file, { force: true });
  }
}

/** Only what follows the last sound entry is cut: damage before it is skipped by readers, who report it. */
function cutTornTail(segment: JournalSegment): TornTail | null {
  const { file, base } = segment;
  const bytes = readSegment(segment);
  const length = splitFrames(bytes, 0).sound.at(-1)?.after ?? 0;
  if (length < statSync(file).size) {
    truncateSync(file, length);
    forceToDisk(file);
  }
  return length === bytes.length ? null : { at: base + length, bytes: bytes.length - length };
}
