/** Kendall's rank correlation of the values with their order: 1 where each is more than all before, 0 where they are in no order. */
export function rankOrder(values: readonly number[]): number {
  let sum = 0;
  for (const [index, value] of values.entries())
    for (const later of values.slice(index + 1)) sum += Math.sign(later - value);
  return (2 * sum) / (values.length * (values.length - 1));
}
