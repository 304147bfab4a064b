// When a value is too old to be taken for a live one.

import type { StationMemory } from './memory.ts';

/** Stale after three usual periods, never less than a minute. Common practice. */
const STALE_PERIODS = 3;
const STALE_LEAST_SECONDS = 60;

export const staleSecondsOfPeriod = (periodSeconds: number): number =>
  Math.max(STALE_LEAST_SECONDS, STALE_PERIODS * periodSeconds);

/** By the slowest probe of the station. */
export function staleMillis(memory: Pick<StationMemory, 'probes'>): number {
  let slowest = 0;
  for (const id in memory.probes) slowest = Math.max(slowest, memory.probes[id]?.periodSeconds ?? 0);
  return staleSecondsOfPeriod(slowest) * 1000;
}
