// Waits for something that another process brings about. Fails by the test's own time limit, never by a guess.

import { setTimeout as delay } from 'node:timers/promises';

/** Looks every few milliseconds until `look` answers something, and answers that. */
export const until = async <T>(
  look: () => T | undefined | null | false | Promise<T | undefined | null | false>,
): Promise<T> => {
  for (;;) {
    const seen = await look();
    if (seen !== undefined && seen !== null && seen !== false) return seen;
    await delay(5);
  }
};
