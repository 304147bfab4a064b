// Instants of measurement to the millisecond, in two ways of which the caller keeps the shorter one when compressed:
// as what is left over beside an even beat (a timer that fires late but does not drift), and as the
// differences of neighbours (a loop that sleeps between its readings).

import { ByteReader, ByteWriter } from './byte-stream.ts';

const BEAT = 0;
const DIFFERENCES = 1;

/** `times` are whole milliseconds, ascending, each once, at least one; every answer decodes to them. */
export const timeEncodings = (times: Float64Array): readonly Uint8Array[] => [
  encodeBeat(times),
  encodeDifferences(times),
];

function encodeBeat(times: Float64Array): Uint8Array {
  const first = times[0] ?? 0;
  const usual = median(differences(times));
  const beats = new Float64Array(times.length);
  for (let index = 1; index < times.length; index += 1) {
    const passed = (times[index] ?? 0) - (times[index - 1] ?? 0);
    beats[index] = (beats[index - 1] ?? 0) + Math.max(1, Math.round(passed / usual));
  }
  const last = beats.length - 1;
  const period = last === 0 ? 0 : ((times[last] ?? 0) - first) / (beats[last] ?? 1);
  const out = new ByteWriter();
  out.whole(BEAT);
  out.whole(times.length);
  out.whole(first);
  out.double(period);
  writeSkippedBeats(out, beats);
  writePlanes(
    out,
    times.map((time, index) => time - first - Math.round((beats[index] ?? 0) * period)),
  );
  return out.done();
}

function encodeDifferences(times: Float64Array): Uint8Array {
  const out = new ByteWriter();
  out.whole(DIFFERENCES);
  out.whole(times.length);
  out.whole(times[0] ?? 0);
  writePlanes(out, differences(times));
  return out.done();
}

export function decodeTimes(bytes: Uint8Array): Float64Array {
  const input = new ByteReader(bytes);
  const way = input.whole();
  const times = new Float64Array(input.whole());
  const first = input.whole();
  if (way === DIFFERENCES) {
    const added = readPlanes(input, times.length - 1);
    times[0] = first;
    for (let index = 1; index < times.length; index += 1)
      times[index] = (times[index - 1] ?? 0) + (added[index - 1] ?? 0);
    return times;
  }
  if (way !== BEAT) throw new RangeError(`no way of writing times has the number ${way}`);
  const period = input.double();
  const beats = readSkippedBeats(input, times.length);
  const left = readPlanes(input, times.length);
  return times.map((_, index) => first + Math.round((beats[index] ?? 0) * period) + (left[index] ?? 0));
}

const differences = (times: Float64Array): Float64Array =>
  times.subarray(1).map((time, index) => time - (times[index] ?? 0));

const median = (values: Float64Array): number => Float64Array.from(values).sort()[values.length >> 1] ?? 1;

/** Only where more than one beat passed: how many readings after the last such place, and how many too many. */
function writeSkippedBeats(out: ByteWriter, beats: Float64Array): void {
  const skipped = new ByteWriter();
  let [count, since] = [0, 0];
  for (let index = 1; index < beats.length; index += 1) {
    const extra = (beats[index] ?? 0) - (beats[index - 1] ?? 0) - 1;
    if (extra === 0) continue;
    skipped.whole(index - since);
    skipped.whole(extra);
    since = index;
    count += 1;
  }
  out.whole(count);
  out.bytes(skipped.done());
}

function readSkippedBeats(input: ByteReader, length: number): Float64Array {
  const extras = new Float64Array(length);
  let index = 0;
  for (let left = input.whole(); left > 0; left -= 1) {
    index += input.whole();
    extras[index] = input.whole();
  }
  const beats = new Float64Array(length);
  for (let at = 1; at < length; at += 1) beats[at] = (beats[at - 1] ?? 0) + 1 + (extras[at] ?? 0);
  return beats;
}

/** Whole numbers above their least one, low bytes first, then the next bytes, as many as the greatest needs. */
function writePlanes(out: ByteWriter, values: Float64Array): void {
  let [least, greatest] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const value of values) {
    if (value < least) least = value;
    if (value > greatest) greatest = value;
  }
  if (values.length === 0) return;
  out.double(least);
  let width = 0;
  while (256 ** width <= greatest - least) width += 1;
  out.whole(width);
  for (let plane = 0; plane < width; plane += 1) {
    const unit = 256 ** plane;
    out.bytes(Uint8Array.from(values, (value) => Math.floor((value - least) / unit) % 256));
  }
}

function readPlanes(input: ByteReader, count: number): Float64Array {
  const values = new Float64Array(count);
  if (count === 0) return values;
  values.fill(input.double());
  const width = input.whole();
  for (let plane = 0; plane < width; plane += 1) {
    const bytes = input.bytes(count);
    const unit = 256 ** plane;
    for (let index = 0; index < count; index += 1)
      values[index] = (values[index] ?? 0) + (bytes[index] ?? 0) * unit;
  }
  return values;
}
