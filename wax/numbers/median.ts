/**
 * The middle of the values; of an even number of them the mean of the two in the middle.
 *
 * @example median([3, 1, 2, 10]) // 2.5
 * @returns NaN for no values
 */
export const median = (values: readonly number[]): number => {
  const sorted = values.toSorted((first, second) => first - second);
  const middle = (sorted.length - 1) / 2;
  return ((sorted[Math.floor(middle)] ?? Number.NaN) + (sorted[Math.ceil(middle)] ?? Number.NaN)) / 2;
};
