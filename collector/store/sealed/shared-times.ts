// Probes of one gateway are measured in one go, so that their instants are the same but for readings that got lost.
// Series that share at least half of their instants get one column of times, which holds all that any of them has.

import { firstFrom } from './series-rows.ts';

const SAMPLES = 32;

export interface SharedTimes {
  readonly columns: readonly Float64Array[];
  /** For each series the number of its column. */
  readonly columnOf: readonly number[];
}

export function shareTimes(series: readonly Float64Array[]): SharedTimes {
  const columns: Float64Array[] = [];
  const columnOf = series.map((times) => {
    const found = columns.findIndex((column) => sharesHalf(times, column));
    if (found === -1) return columns.push(times) - 1;
    columns[found] = union(columns[found] ?? times, times);
    return found;
  });
  return { columns, columnOf };
}

function sharesHalf(times: Float64Array, column: Float64Array): boolean {
  const samples = Math.min(SAMPLES, times.length);
  let shared = 0;
  for (let sample = 0; sample < samples; sample += 1) {
    const at = times[Math.floor((sample * times.length) / samples)] ?? 0;
    if (column[firstFrom(column, at)] === at) shared += 1;
  }
  return shared * 2 >= samples;
}

function union(column: Float64Array, times: Float64Array): Float64Array {
  const all = new Float64Array(column.length + times.length);
  let [length, left, right] = [0, 0, 0];
  while (left < column.length || right < times.length) {
    const [leftTime, rightTime] = [column[left] ?? Infinity, times[right] ?? Infinity];
    all[length] = Math.min(leftTime, rightTime);
    length += 1;
    if (leftTime <= rightTime) left += 1;
    if (rightTime <= leftTime) right += 1;
  }
  return length === column.length ? column : all.slice(0, length);
}
