// Gathers names that changed and hands them on together, at most once in a span.

export interface Gathering {
  readonly add: (name: string) => void;
  readonly stop: () => void;
}

export const gather = (spanMillis: number, handOn: (names: ReadonlySet<string>) => void): Gathering => {
  let names = new Set<string>();
  let timer: NodeJS.Timeout | null = null;
  const flush = (): void => {
    timer = null;
    const gathered = names;
    names = new Set();
    handOn(gathered);
  };
  return {
    add: (name) => {
      names.add(name);
      timer ??= setTimeout(flush, spanMillis);
    },
    stop: () => {
      if (timer !== null) clearTimeout(timer);
    },
  };
};
