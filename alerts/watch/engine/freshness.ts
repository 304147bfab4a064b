// When a value is too old to be taken for a live one.

import { steadyLagMillis } from '../measures/gateway-clock.ts';
import { type GatewayMemory, gatewayPart, type StationMemory } from './memory.ts';

/** Stale after three usual periods, never less than a minute. Common practice. */
const STALE_PERIODS = 3;
const STALE_LEAST_SECONDS = 60;

const staleSecondsOfPeriod = (periodSeconds: number): number =>
  Math.max(STALE_LEAST_SECONDS, STALE_PERIODS * periodSeconds);

/** By the slowest probe of the station. */
export function staleMillis(memory: Pick<StationMemory, 'probes'>): number {
  let slowest = 0;
  for (const id in memory.probes) slowest = Math.max(slowest, memory.probes[id]?.periodSeconds ?? 0);
  return staleSecondsOfPeriod(slowest) * 1000;
}

/** How far the gateway's clock is known to be behind ours; a known wrong clock does not make its readings old. */
export const clockLagMillis = (parts: Readonly<Record<string, unknown>>, gateway: string): number => {
  const memory = parts[gatewayPart(gateway)] as GatewayMemory | undefined;
  return steadyLagMillis(memory?.clock ?? null) ?? 0;
};
