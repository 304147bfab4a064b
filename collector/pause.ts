// A wait that can be cut short.

import { setTimeout as delay } from 'node:timers/promises';

/** Resolves with true after that long, with false as soon as `signal` is aborted; never rejects. */
export const pause = (millis: number, signal: AbortSignal): Promise<boolean> =>
  delay(millis, true, { signal }).catch(() => false);
