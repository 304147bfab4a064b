// What makes YAML no lab file whatever its values are, found in one walk: keys that are collections, very many aliases and
// long lists of single values, which are compared with each other, take time out of all proportion to the text, and a file
// that somebody sends must not hold up the watch.

import { isAlias, isMap, isNode, isScalar, isSeq } from 'yaml';

/** Lab files that the program writes have none. */
const MOST_ALIASES = 100;
/** Closed days, priorities, topics: none comes near. */
const MOST_SINGLE_VALUES = 1000;

export interface ShapeFault {
  /** Characters before it. */
  readonly offset: number;
  readonly reason: string;
}

const faultAt = (node: unknown, reason: string): ShapeFault => ({
  offset: (isNode(node) ? node.range?.[0] : undefined) ?? 0,
  reason,
});

/** Null for a tree of mappings with words as keys, lists and single values. */
export function shapeFault(contents: unknown): ShapeFault | null {
  const left: unknown[] = [contents];
  let aliases = 0;
  while (left.length > 0) {
    const node = left.pop();
    if (isAlias(node)) {
      aliases += 1;
      if (aliases > MOST_ALIASES) return faultAt(node, `More than ${MOST_ALIASES} aliases`);
    }
    if (isSeq(node)) {
      if (node.items.filter((item) => isScalar(item)).length > MOST_SINGLE_VALUES)
        return faultAt(node, `A list of more than ${MOST_SINGLE_VALUES} single values`);
      for (const item of node.items) left.push(item);
    }
    if (!isMap(node)) continue;
    const keys = new Set<unknown>();
    for (const { key, value } of node.items) {
      if (!isScalar(key)) return faultAt(key, 'A key must be a single word');
      if (keys.has(key.value)) return faultAt(key, 'Map keys must be unique');
      keys.add(key.value);
      left.push(value);
    }
  }
  return null;
}
