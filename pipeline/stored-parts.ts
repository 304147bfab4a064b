// Parts of a state by the names under which the store has them: a prefix marks whose they are.

export const partsBelow = (prefix: string, all: Readonly<Record<string, unknown>>): Record<string, unknown> =>
  Object.fromEntries(
    Object.entries(all)
      .filter(([name]) => name.startsWith(prefix))
      .map(([name, value]) => [name.slice(prefix.length), value]),
  );

export const partsUnder = (
  prefix: string,
  parts: Readonly<Record<string, unknown>>,
): Record<string, unknown> =>
  Object.fromEntries(Object.entries(parts).map(([name, value]) => [prefix + name, value]));
