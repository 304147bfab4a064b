// One entry as one line: eight hex digits of CRC-32, a space, the entry as JSON, a line feed. JSON holds no raw
// line feed, so a reader that meets damage resumes at the next line, and a person can read the file.

import { crc32 } from 'node:zlib';
import type { Entry } from '../../lab/entry.ts';
import { entryFromJson, entryJson } from './entry-json.ts';
import type { DamagedSpan } from './journal.ts';

const LINE_FEED = 0x0a;
const SPACE = 0x20;
const DIGITS = 8;
const DIGIT_BYTES = Buffer.from('0123456789abcdef');

/** The most bytes that one character of a string takes as UTF-8. */
const UTF8_MOST = 3;

/** Enough for the message of a steady lab; for more it doubles. */
const FIRST_BYTES = 1024;

/**
 * Frames in one buffer, each written in place when its entry comes: half the time of a buffer for each, and of what
 * waits for its commit only bytes are left, which collecting garbage costs nothing.
 */
export class FrameBuffer {
  #bytes = Buffer.alloc(0);
  #length = 0;

  get isEmpty(): boolean {
    return this.#length === 0;
  }

  add(entry: Entry): void {
    const text = entryJson(entry);
    this.#makeRoom(DIGITS + 2 + UTF8_MOST * text.length);
    const start = this.#length + DIGITS + 1;
    const end = start + this.#bytes.write(text, start);
    writeChecksum(this.#bytes, this.#length, crc32(text));
    this.#bytes[start - 1] = SPACE;
    this.#bytes[end] = LINE_FEED;
    this.#length = end + 1;
  }

  /** All frames so far; the next ones begin anew. */
  take(): Buffer {
    const frames = this.#bytes.subarray(0, this.#length);
    this.#bytes = Buffer.alloc(0);
    this.#length = 0;
    return frames;
  }

  #makeRoom(bytes: number): void {
    const needed = this.#length + bytes;
    if (needed <= this.#bytes.length) return;
    const larger = Buffer.allocUnsafe(Math.max(FIRST_BYTES, 2 * this.#bytes.length, needed));
    this.#bytes.copy(larger, 0, 0, this.#length);
    this.#bytes = larger;
  }
}

/** Digit by digit: as text joined to that of the entry they take a third of the time that the whole frame takes. */
function writeChecksum(bytes: Buffer, at: number, checksum: number): void {
  for (let digit = 0; digit < DIGITS; digit += 1)
    bytes[at + digit] = DIGIT_BYTES[(checksum >>> (4 * (DIGITS - 1 - digit))) & 0xf] ?? 0;
}

export function encodeFrames(entries: readonly Entry[]): Buffer {
  const frames = new FrameBuffer();
  for (const entry of entries) frames.add(entry);
  return frames.take();
}

/** The JSON of a line without its line feed; null when the checksum does not agree. */
const checkLine = (line: Buffer): Buffer | null => {
  if (line.length < DIGITS + 2 || line[DIGITS] !== SPACE) return null;
  const json = line.subarray(DIGITS + 1);
  return crc32(json) === checksumOf(line) ? json : null;
};

/** Null unless they are exactly the digits that are written: a flipped bit that turns `a` into `A` is damage too. */
function checksumOf(line: Buffer): number | null {
  let checksum = 0;
  for (let at = 0; at < DIGITS; at += 1) {
    const digit = HEX_DIGITS[line[at] ?? 0] ?? NO_DIGIT;
    if (digit === NO_DIGIT) return null;
    checksum = checksum * 16 + digit;
  }
  return checksum;
}
const NO_DIGIT = 255;
const HEX_DIGITS = new Uint8Array(256).fill(NO_DIGIT);
for (const [value, byte] of DIGIT_BYTES.entries()) HEX_DIGITS[byte] = value;

export interface Frames {
  /** Sound frames with the position after each. */
  readonly sound: readonly { readonly json: Buffer; readonly after: number }[];
  readonly damaged: readonly DamagedSpan[];
  /** Position after the last whole line, sound or not; what follows is a part of a line. */
  readonly after: number;
}

/** Splits bytes that begin at position `at` into frames. Neighbouring damaged lines make one span. */
export const splitFrames = (bytes: Buffer, at: number): Frames => {
  const sound: { json: Buffer; after: number }[] = [];
  const damaged: { at: number; bytes: number }[] = [];
  let start = 0;
  for (;;) {
    const feed = bytes.indexOf(LINE_FEED, start);
    if (feed < 0) return { sound, damaged, after: at + start };
    const json = checkLine(bytes.subarray(start, feed));
    const length = feed + 1 - start;
    if (json !== null) sound.push({ json, after: at + feed + 1 });
    else {
      const last = damaged.at(-1);
      if (last !== undefined && last.at + last.bytes === at + start) last.bytes += length;
      else damaged.push({ at: at + start, bytes: length });
    }
    start = feed + 1;
  }
};

export const parseEntry = (json: Buffer): Entry => entryFromJson(json.toString());
