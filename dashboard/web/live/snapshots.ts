// What is loaded whole, beside a line that brings changes: an answer takes its time, and a change that arrives in
// between is newer than it. So changes received while an answer is under way are applied again after it, and an
// answer is dropped when one that was requested later has been taken already.

export interface Snapshots<Change> {
  readonly load: () => Promise<void>;
  /** A change that the line brought and that was applied already. */
  readonly received: (change: Change) => void;
}

/** `take` gets what `ask` answered, unless that is null, then `apply` each change received since it was called, in order. */
export const snapshots = <Whole extends object, Change>(
  ask: () => Promise<Whole | null>,
  take: (whole: Whole) => void,
  apply: (change: Change) => void,
): Snapshots<Change> => {
  const underWay = new Set<Change[]>();
  let asked = 0;
  let taken = 0;
  return {
    load: async () => {
      asked += 1;
      const number = asked;
      const since: Change[] = [];
      underWay.add(since);
      try {
        const whole = await ask();
        if (whole === null || number < taken) return;
        taken = number;
        take(whole);
        for (const change of since) apply(change);
      } finally {
        underWay.delete(since);
      }
    },
    received: (change) => {
      for (const since of underWay) since.push(change);
    },
  };
};
