// The rows of one series beside a column of times: which of its instants the series has, the qualities, the values.

import { ByteReader, ByteWriter } from './byte-stream.ts';
import type { SeriesRows } from './series-rows.ts';
import { readValues, writeValues } from './values.ts';

/** The column has every instant of the rows. */
export function encodeRows({ times, values, qualities }: SeriesRows, column: Float64Array): Uint8Array {
  const out = new ByteWriter();
  writeAbsent(out, times, column);
  writeQualities(out, qualities);
  writeValues(out, values);
  return out.done();
}

export function decodeRows(bytes: Uint8Array, column: Float64Array): SeriesRows {
  const input = new ByteReader(bytes);
  const times = readPresent(input, column);
  const qualities = readQualities(input, times.length);
  return { times, qualities, values: readValues(input) };
}

/** Runs of instants of the column that the series has not: how many it has before the run, how long the run is. */
function writeAbsent(out: ByteWriter, times: Float64Array, column: Float64Array): void {
  const runs: number[] = [];
  if (times.length < column.length) {
    let [at, present] = [0, 0];
    for (const time of times) {
      const start = at;
      while (column[at] !== time) at += 1;
      if (at > start) {
        runs.push(present, at - start);
        present = 0;
      }
      present += 1;
      at += 1;
    }
    if (at < column.length) runs.push(present, column.length - at);
  }
  out.whole(runs.length / 2);
  for (const number of runs) out.whole(number);
}

function readPresent(input: ByteReader, column: Float64Array): Float64Array {
  const runs = input.whole();
  if (runs === 0) return column;
  const times = new Float64Array(column.length);
  let [at, length] = [0, 0];
  const take = (count: number): void => {
    times.set(column.subarray(at, at + count), length);
    at += count;
    length += count;
  };
  for (let run = 0; run < runs; run += 1) {
    take(input.whole());
    at += input.whole();
  }
  take(column.length - at);
  return times.slice(0, length);
}

/** Runs of qualities other than good: how many good ones before, how long, which. */
function writeQualities(out: ByteWriter, qualities: Uint8Array): void {
  const runs: number[] = [];
  let good = 0;
  for (let at = 0; at < qualities.length; ) {
    const quality = qualities[at] ?? 0;
    let end = at + 1;
    while (end < qualities.length && qualities[end] === quality) end += 1;
    if (quality === 0) good = end - at;
    else {
      runs.push(good, end - at, quality);
      good = 0;
    }
    at = end;
  }
  out.whole(runs.length / 3);
  for (const number of runs) out.whole(number);
}

function readQualities(input: ByteReader, count: number): Uint8Array {
  const qualities = new Uint8Array(count);
  let at = 0;
  for (let runs = input.whole(); runs > 0; runs -= 1) {
    at += input.whole();
    const end = at + input.whole();
    qualities.fill(input.whole(), at, end);
    at = end;
  }
  return qualities;
}
