// Gathers the newest value of each name and hands them on together, at most once in a span.

export interface Gathering<Value> {
  readonly add: (name: string, value: Value) => void;
  readonly stop: () => void;
}

export const gather = <Value>(
  spanMillis: number,
  handOn: (values: Iterable<Value>) => void,
): Gathering<Value> => {
  let values = new Map<string, Value>();
  let timer: NodeJS.Timeout | null = null;
  const flush = (): void => {
    timer = null;
    const gathered = values;
    values = new Map();
    handOn(gathered.values());
  };
  return {
    add: (name, value) => {
      values.set(name, value);
      timer ??= setTimeout(flush, spanMillis);
    },
    stop: () => {
      if (timer !== null) clearTimeout(timer);
    },
  };
};
