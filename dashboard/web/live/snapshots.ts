// What is asked for whole, beside a line that tells changes: an answer takes its time, and what the line told in
// between is newer than it. So changes heard while an answer is under way are told again after it is taken, and an
// answer is dropped when one that was asked for later has been taken already.

export interface Snapshots<Change> {
  readonly load: () => Promise<void>;
  /** A change that the line told and that was applied already. */
  readonly heard: (change: Change) => void;
}

/** `take` gets what `ask` answered, unless that is null, then `tell` each change heard since it was asked, in order. */
export const snapshots = <Whole extends object, Change>(
  ask: () => Promise<Whole | null>,
  take: (whole: Whole) => void,
  tell: (change: Change) => void,
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
        for (const change of since) tell(change);
      } finally {
        underWay.delete(since);
      }
    },
    heard: (change) => {
      for (const since of underWay) since.push(change);
    },
  };
};
