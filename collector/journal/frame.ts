// One entry as one line: eight hex digits of CRC-32, a space, the entry as JSON, a line feed. JSON holds no raw
// line feed, so a reader that meets damage finds its feet again at the next line, and a person can read the file.

import { crc32 } from 'node:zlib';
import type { Entry } from '../../lab/entry.ts';
import type { DamagedSpan } from './journal.ts';

const LINE_FEED = 0x0a;
const SPACE = 0x20;
const DIGITS = 8;

/** The most bytes that one character of a string takes as UTF-8. */
const UTF8_MOST = 3;

/** All frames in one buffer, written in place: half the time of a buffer for each. */
export const encodeFrames = (entries: readonly Entry[]): Buffer => {
  const texts = entries.map((entry) => JSON.stringify(entry));
  const most = texts.reduce((sum, text) => sum + DIGITS + 2 + UTF8_MOST * text.length, 0);
  const frames = Buffer.allocUnsafe(most);
  let at = 0;
  for (const text of texts) {
    const start = at + DIGITS + 1;
    const end = start + frames.write(text, start);
    frames.write(crc32(frames.subarray(start, end)).toString(16).padStart(DIGITS, '0'), at, 'latin1');
    frames[start - 1] = SPACE;
    frames[end] = LINE_FEED;
    at = end + 1;
  }
  return frames.subarray(0, at);
};

/** The JSON of a line without its line feed; null when the checksum does not agree. */
const checkedJson = (line: Buffer): Buffer | null => {
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
for (const [value, digit] of [...'0123456789abcdef'].entries()) HEX_DIGITS[digit.charCodeAt(0)] = value;

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
    const json = checkedJson(bytes.subarray(start, feed));
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

export const parseEntry = (json: Buffer): Entry => JSON.parse(json.toString()) as Entry;
