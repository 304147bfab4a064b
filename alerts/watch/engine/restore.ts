// The state of the watch as it was stored.

import type { WatchState } from './memory.ts';

/** Parts are written by the watch alone, each under the key that names its type. */
export const isWatchState = (
  parts: Readonly<Record<string, unknown>>,
): parts is WatchState & Record<string, unknown> =>
  Object.keys(parts).every(
    (key) =>
      key === 'clock' || key === 'site' || /^(station|history|probe|gateway|pattern|alarms):/.test(key),
  );
