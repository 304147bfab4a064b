// Readings of one series side by side, ascending by instant, each instant once.

export interface SeriesRows {
  /** Milliseconds since 1970. */
  readonly times: Float64Array;
  /** Degrees Celsius. */
  readonly values: Float64Array;
  readonly qualities: Uint8Array;
}

export const NO_ROWS: SeriesRows = {
  times: new Float64Array(),
  values: new Float64Array(),
  qualities: new Uint8Array(),
};

/** Index of the first instant that is not before `at`. */
export function firstFrom(times: Float64Array, at: number): number {
  let [low, high] = [0, times.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((times[middle] ?? 0) < at) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** The rows of `[from, to)`, without a copy. */
export function rowsWithin({ times, values, qualities }: SeriesRows, from: number, to: number): SeriesRows {
  const [start, end] = [firstFrom(times, from), firstFrom(times, to)];
  return {
    times: times.subarray(start, end),
    values: values.subarray(start, end),
    qualities: qualities.subarray(start, end),
  };
}

/** The rows of `all` at instants that `others` does not have. */
export function rowsBeside(all: SeriesRows, others: SeriesRows): SeriesRows {
  if (others.times.length === 0) return all;
  const kept: number[] = [];
  for (const [index, at] of all.times.entries())
    if (others.times[firstFrom(others.times, at)] !== at) kept.push(index);
  return {
    times: Float64Array.from(kept, (index) => all.times[index] ?? 0),
    values: Float64Array.from(kept, (index) => all.values[index] ?? 0),
    qualities: Uint8Array.from(kept, (index) => all.qualities[index] ?? 0),
  };
}

/** Both in order; where both have an instant, the row of `first` holds. */
export function mergeRows(first: SeriesRows, second: SeriesRows): SeriesRows {
  if (second.times.length === 0) return first;
  if (first.times.length === 0) return second;
  const most = first.times.length + second.times.length;
  const [times, values, qualities] = [new Float64Array(most), new Float64Array(most), new Uint8Array(most)];
  let [length, left, right] = [0, 0, 0];
  while (left < first.times.length || right < second.times.length) {
    const [leftTime, rightTime] = [first.times[left] ?? Infinity, second.times[right] ?? Infinity];
    const [source, index] = leftTime <= rightTime ? [first, left] : [second, right];
    times[length] = source.times[index] ?? 0;
    values[length] = source.values[index] ?? 0;
    qualities[length] = source.qualities[index] ?? 0;
    length += 1;
    if (leftTime <= rightTime) left += 1;
    if (rightTime <= leftTime) right += 1;
  }
  return {
    times: times.subarray(0, length),
    values: values.subarray(0, length),
    qualities: qualities.subarray(0, length),
  };
}
