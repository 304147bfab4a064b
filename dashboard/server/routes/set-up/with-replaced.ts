/** The list with the entry of the same id replaced by `entry`, or with `entry` at its end. */
export const withReplaced = <T extends { readonly id: string }>(
  list: readonly T[],
  entry: T,
): readonly T[] =>
  list.some(({ id }) => id === entry.id)
    ? list.map((old) => (old.id === entry.id ? entry : old))
    : [...list, entry];
