// The files of the journal. Each is named after the offset of its first byte, so that a listing alone shows which
// file holds an offset and which can go.

import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';

export interface JournalSegment {
  readonly file: string;
  /** Offset of its first byte. */
  readonly base: number;
}

/** Digits enough for the largest safe integer, so that names sort as offsets do. */
const DIGITS = 16;
const NAME = /^journal-(\d{16})\.log$/;

export const segmentAt = (folder: string, base: number): JournalSegment => ({
  file: join(folder, `journal-${String(base).padStart(DIGITS, '0')}.log`),
  base,
});

/** Oldest first. */
export const segmentsIn = (folder: string): readonly JournalSegment[] =>
  readdirSync(folder)
    .flatMap((name) => {
      const digits = NAME.exec(name)?.[1];
      return digits === undefined ? [] : [{ file: join(folder, name), base: Number(digits) }];
    })
    .sort((a, b) => a.base - b.base);

/** What was written to the segment, whole or in part: a frame holds no zeros, those that follow are filled ahead. */
export const readSegment = ({ file }: JournalSegment): Buffer => {
  const bytes = readFileSync(file);
  let length = bytes.length;
  while (length > 0 && bytes[length - 1] === 0) length -= 1;
  return bytes.subarray(0, length);
};
