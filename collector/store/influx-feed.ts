// Carries readings from SQLite to InfluxDB, oldest first, one request in flight. While the server is away it tries
// again with a growing delay; a request of which the server refuses a line is halved until that line stands alone,
// and only that one is set aside.

import { setTimeout as delay } from 'node:timers/promises';
import type { Reading } from '../../lab/reading.ts';
import { problemOf } from '../../wax/problem-error.ts';
import { type Problem, problem } from '../../wax/result.ts';
import type { InfluxServer } from './influx-server.ts';
import type { InfluxTables, Refused } from './influx-tables.ts';

export interface RetryDelays {
  readonly firstMillis: number;
  readonly longestMillis: number;
}

export interface InfluxFeed {
  /** There may be something new to carry. */
  readonly wake: () => void;
  /** Why nothing gets through, or why the newest request was not taken whole; null when all is well. */
  readonly problem: () => Problem | null;
  readonly close: () => Promise<void>;
}

/** Large enough to be quick, small enough to be one short request: about 400 kB of lines. */
const READINGS_A_REQUEST = 5000;

export function startInfluxFeed(server: InfluxServer, tables: InfluxTables, retry: RetryDelays): InfluxFeed {
  const ending = new AbortController();
  let current: Problem | null = null;
  let running: Promise<void> | null = null;
  let isWanted = false;

  const carryAll = async (): Promise<void> => {
    let failures = 0;
    while (!ending.signal.aborted) {
      isWanted = false;
      try {
        const { through, readings } = tables.next(READINGS_A_REQUEST);
        if (through === 0) return;
        const refused = await carry(readings);
        tables.sent(through, refused);
        failures = 0;
        const reason = refused[0]?.reason;
        current =
          reason === undefined ? null : problem('readings-refused', { count: refused.length, reason });
      } catch (error) {
        current = problemOf(error, 'commit-failed');
        const growing = retry.firstMillis * 2 ** Math.min(failures, 20);
        failures += 1;
        // Several sites that lost one server together must not come back together.
        const jittered = Math.min(growing, retry.longestMillis) * (0.8 + Math.random() * 0.4);
        await delay(jittered, undefined, { signal: ending.signal }).catch(() => {});
      }
    }
  };

  const carry = async (readings: readonly Reading[]): Promise<readonly Refused[]> => {
    const outcome = await server.write(readings);
    if (outcome.kind === 'taken') return [];
    const [only] = readings;
    if (only !== undefined && readings.length === 1) return [{ reading: only, reason: outcome.reason }];
    const middle = readings.length >> 1;
    const first = await carry(readings.slice(0, middle));
    return [...first, ...(await carry(readings.slice(middle)))];
  };

  const wake = (): void => {
    if (ending.signal.aborted) return;
    isWanted = true;
    running ??= carryAll().finally(() => {
      running = null;
      // Something came between the last look and the end of the run.
      if (isWanted) wake();
    });
  };
  wake();
  return {
    wake,
    problem: () => current,
    close: async () => {
      ending.abort();
      await running;
    },
  };
}
