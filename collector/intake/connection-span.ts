// Notices connections that do not last: made, and ended soon by the other side, again and again. Mostly a second program
// has our client id at the broker; each then takes the session from the other, and with it readings that no one repeats.

/** Longer than the longest wait before a second program comes back to take the session. */
const LASTING_MILLIS = 60_000;
const MOST_SHORT = 2;

export interface ConnectionSpan {
  /** `onLasting` is called once the connection has lasted, where the ones before it had not. */
  readonly connected: (onLasting: () => void) => void;
  /** Returns whether there was a connection. */
  readonly ended: () => boolean;
  /** How many in a row have not lasted so far. */
  readonly shortOnes: () => number;
  /** So many in a row did not last that readings may be missing. */
  readonly isUnsteady: () => boolean;
  readonly stop: () => void;
}

export function connectionSpan(lastingMillis = LASTING_MILLIS): ConnectionSpan {
  let shortOnes = 0;
  let lasting: NodeJS.Timeout | null = null;
  const stop = (): void => {
    if (lasting !== null) clearTimeout(lasting);
    lasting = null;
  };
  let isConnected = false;
  const isUnsteady = (): boolean => shortOnes > MOST_SHORT;
  return {
    connected: (onLasting) => {
      stop();
      isConnected = true;
      lasting = setTimeout(() => {
        const wasUnsteady = isUnsteady();
        lasting = null;
        shortOnes = 0;
        if (wasUnsteady) onLasting();
      }, lastingMillis).unref();
    },
    ended: () => {
      const was = isConnected;
      isConnected = false;
      if (was && lasting !== null) shortOnes += 1;
      stop();
      return was;
    },
    shortOnes: () => shortOnes,
    isUnsteady,
    stop,
  };
}
