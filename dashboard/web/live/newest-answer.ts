// Of several questions that overtake each other only the newest may answer. A question that was dropped, by a newer
// one or because its screen was left, changes nothing, however late its answer arrives. Pure but for the abort signal.

export interface NewestAnswer {
  /** Drops the question under way, sends this one, and hands its answer to `take` unless it was dropped meanwhile. */
  readonly ask: <T>(
    question: (signal: AbortSignal) => Promise<T>,
    take: (answer: T) => void,
  ) => Promise<void>;
  readonly drop: () => void;
}

export const newestAnswer = (): NewestAnswer => {
  let current: AbortController | null = null;
  const drop = (): void => {
    current?.abort();
    current = null;
  };
  return {
    ask: async (question, take) => {
      drop();
      const asked = new AbortController();
      current = asked;
      const answer = await question(asked.signal);
      if (current !== asked) return;
      current = null;
      take(answer);
    },
    drop,
  };
};
