// How long readings that nobody waits for are held before their commit.

/** Shorter than an eye notices. */
const HOLD_MILLIS = 100;
/** While they keep coming: each commit rewrites pages of the database, which wear out memory cards. */
const STEADY_HOLD_MILLIS = 1000;

export interface Hold {
  /** Resolves when what is held is due. */
  readonly over: () => Promise<void>;
}

/** What comes within a steady hold after a commit belongs to a stream. */
export function openHold(delay: (millis: number) => Promise<void>): Hold {
  let isSteady = false;
  let commits = 0;
  return {
    over: async () => {
      await delay(isSteady ? STEADY_HOLD_MILLIS : HOLD_MILLIS);
      isSteady = true;
      commits += 1;
      const commit = commits;
      void delay(STEADY_HOLD_MILLIS).then(() => {
        if (commit === commits) isSteady = false;
      });
    },
  };
}
