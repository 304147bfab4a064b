// Records that are looked up by a name from outside: `toString` and `__proto__` are names like others, and no record has
// an entry of such a name unless somebody put it there.

/**
 * What a record holds under a name; undefined where it holds nothing of its own.
 * @example ownEntry({ pot: 1 }, 'toString') // undefined
 */
export const ownEntry = <T>(record: Readonly<Record<string, T>>, name: string): T | undefined =>
  Object.hasOwn(record, name) ? record[name] : undefined;
