// Waits for something that another process brings about. Fails by the test's own time limit, never by a guess.

import { setTimeout as delay } from 'node:timers/promises';

const FIRST_PAUSE_MILLIS = 5;
const LONGEST_PAUSE_MILLIS = 100;
/** Of the time waited so far: what comes soon is seen soon, and what takes minutes leaves the processor to others. */
const PAUSE_SHARE = 0.1;

/** Looks again and again until `look` answers something, and answers that. */
export const until = async <T>(
  look: () => T | undefined | null | false | Promise<T | undefined | null | false>,
): Promise<T> => {
  const began = performance.now();
  for (;;) {
    const seen = await look();
    if (seen !== undefined && seen !== null && seen !== false) return seen;
    const waited = performance.now() - began;
    await delay(Math.min(LONGEST_PAUSE_MILLIS, Math.max(FIRST_PAUSE_MILLIS, waited * PAUSE_SHARE)));
  }
};
