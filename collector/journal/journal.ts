// What the journal promises: entries in one order, written before anything is acknowledged, and forced to disk before or,
// where the lab set it, a few seconds later.
// Offsets are bytes since the first entry ever written; they never repeat and outlive deleted segments.

import type { Entry } from '../../lab/entry.ts';

/** What was found when the journal was opened after a crash. */
export interface TornTail {
  /** Where the journal was cut: the end of the last whole entry. */
  readonly at: number;
  readonly bytes: number;
}

export interface Journal {
  /** Offset after the last entry that was written: it outlives the process. */
  readonly end: () => number;
  /** Offset after the last entry that was forced to disk: it outlives a power cut. */
  readonly synced: () => number;
  readonly tornTail: TornTail | null;
  /** Adds entries behind the last one and resolves when they are as safe as the lab set: the offset after them. */
  append(entries: readonly Entry[]): Promise<number>;
  /** The same for entries that are frames already (frame.ts). */
  appendFrames(frames: Buffer): Promise<number>;
  /** Deletes the segments that lie wholly before the offset: that of the slowest consumer. */
  dropBefore(offset: number): Promise<void>;
  close(): Promise<void>;
}

/** A span that could not be read back; the entries around it can. */
export interface DamagedSpan {
  readonly at: number;
  readonly bytes: number;
}

export interface Tail {
  readonly entries: readonly Entry[];
  /** Offset after each entry, of the same length as `entries`. */
  readonly offsets: readonly number[];
  /** Where to read on. */
  readonly next: number;
  readonly damaged: readonly DamagedSpan[];
}

/** Reads the journal from another thread while it grows. */
export interface TailReader {
  /** Whole entries from `from` on, no further than `end`, about `bytes` at a time (at least one entry). */
  read(from: number, end: number, bytes?: number): Tail;
  close(): void;
}
