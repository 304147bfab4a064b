/**
 * The middle of the values; of an even number of them the upper of the two in the middle, which one of the cycles had.
 * @example upperMedian([3, 1, 2, 10]) // 3
 * @returns 0 for no values
 */
export const upperMedian = (values: readonly number[]): number =>
  values.toSorted((first, second) => first - second)[Math.floor(values.length / 2)] ?? 0;
