// How wide the columns of a table on paper are. Pure.

const sum = (numbers: readonly number[]): number => numbers.reduce((total, each) => total + each, 0);

/**
 * By their shares of `width`, but none narrower than its longest word while the widest one has as much to give. All in
 * the unit of `width`; `longestWords` with the gap to the next column.
 * @example columnWidths([1, 1, 2], [30, 20, 10], 100) // [30, 25, 45]
 */
export const columnWidths = (
  shares: readonly number[],
  longestWords: readonly number[],
  width: number,
): readonly number[] => {
  const byShare = shares.map((share) => (share / sum(shares)) * width);
  const widened = byShare.map((column, index) => Math.max(column, longestWords[index] ?? 0));
  const widest = widened.indexOf(Math.max(...widened));
  const left = (widened[widest] ?? 0) - (sum(widened) - width);
  if (left < (longestWords[widest] ?? 0)) return byShare;
  return widened.map((column, index) => (index === widest ? left : column));
};
