// Temperatures as a sensor gives them, in whole steps of its resolution, found from the values themselves: halves
// down to 1/256 and tenths down to 1/10,000 of a degree. Values off every grid (a corrected probe) are numbered
// by rank among their distinct values; where those are many, the doubles are stored as they are, byte by byte. What is
// read back equals what was written bit for bit, but that -0 becomes 0.

import type { ByteReader, ByteWriter } from './byte-stream.ts';
import { readSteps, writeSteps } from './steps.ts';

/** Coarsest first; the first on whose grid all values lie is taken. */
const STEPS_PER_DEGREE = [1, 2, 4, 8, 10, 16, 100, 32, 64, 128, 256, 1000, 10_000] as const;
/** Steps beyond this are no temperatures; differences of two stay exact. */
const MOST_STEPS = 2 ** 40;
const RANKED = 254;
const PLAIN = 255;
const BYTES_PER_DOUBLE = 8;

function gridOf(values: Float64Array): number {
  return STEPS_PER_DEGREE.findIndex((scale) => {
    for (const value of values) {
      const steps = Math.round(value * scale);
      if (steps / scale !== value || Math.abs(steps) > MOST_STEPS) return false;
    }
    return true;
  });
}

export function writeValues(out: ByteWriter, values: Float64Array): void {
  out.whole(values.length);
  const grid = gridOf(values);
  const scale = STEPS_PER_DEGREE[grid];
  if (scale !== undefined) {
    out.whole(grid);
    writeSteps(
      out,
      values.map((value) => Math.round(value * scale)),
    );
    return;
  }
  const distinct = Float64Array.from(new Set(values)).sort();
  // A rank costs about half a byte and a distinct value eight.
  if (distinct.length > values.length / 2) {
    out.whole(PLAIN);
    out.bytes(planes(values));
    return;
  }
  out.whole(RANKED);
  out.whole(distinct.length);
  out.bytes(planes(distinct));
  const ranks = new Map(Array.from(distinct, (value, rank) => [value, rank]));
  writeSteps(
    out,
    values.map((value) => ranks.get(value) ?? 0),
  );
}

export function readValues(input: ByteReader): Float64Array {
  const count = input.whole();
  const grid = input.whole();
  if (grid === PLAIN) return doubles(input.bytes(count * BYTES_PER_DOUBLE));
  if (grid === RANKED) {
    const distinct = doubles(input.bytes(input.whole() * BYTES_PER_DOUBLE));
    return readSteps(input, count).map((rank) => distinct[rank] ?? Number.NaN);
  }
  const scale = STEPS_PER_DEGREE[grid];
  if (scale === undefined) throw new RangeError(`no grid has the number ${grid}`);
  const steps = readSteps(input, count);
  for (let index = 0; index < count; index += 1) steps[index] = (steps[index] ?? 0) / scale;
  return steps;
}

/** The first bytes of all doubles, then the second ones: neighbours of one kind compress. */
function planes(values: Float64Array): Uint8Array {
  const view = new DataView(new ArrayBuffer(BYTES_PER_DOUBLE));
  const turned = new Uint8Array(values.length * BYTES_PER_DOUBLE);
  for (const [index, value] of values.entries()) {
    view.setFloat64(0, value);
    for (let byte = 0; byte < BYTES_PER_DOUBLE; byte += 1)
      turned[byte * values.length + index] = view.getUint8(byte);
  }
  return turned;
}

function doubles(turned: Uint8Array): Float64Array {
  const view = new DataView(new ArrayBuffer(BYTES_PER_DOUBLE));
  const values = new Float64Array(turned.length / BYTES_PER_DOUBLE);
  for (let index = 0; index < values.length; index += 1) {
    for (let byte = 0; byte < BYTES_PER_DOUBLE; byte += 1)
      view.setUint8(byte, turned[byte * values.length + index] ?? 0);
    values[index] = view.getFloat64(0);
  }
  return values;
}
