// Carries readings from SQLite to InfluxDB, one request in flight: first what came since the last look, so that a live
// reading never waits behind a backlog, then the oldest that wait. While the server is away, or refuses whatever it is
// sent, it tries again with a growing delay. A line that the server refuses while it takes others is set aside alone.

import { setTimeout as delay } from 'node:timers/promises';
import { pause } from '../pause.ts';
import { problemOf } from '../../wax/problem-error.ts';
import { type Problem, problem } from '../../wax/result.ts';
import { carryLines } from './carry-lines.ts';
import type { InfluxServer } from './influx-server.ts';
import type { InfluxTables, Unsent } from './influx-tables.ts';

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

/** Large enough to be quick, small enough to be one short request: about 160 kB of lines. */
const READINGS_A_REQUEST = 2000;
/** At the end a request under way gets this long; what it carried waits here and is sent again. */
const LAST_REQUEST_MILLIS = 500;

export function startInfluxFeed(server: InfluxServer, tables: InfluxTables, retry: RetryDelays): InfluxFeed {
  const ending = new AbortController();
  let current: Problem | null = null;
  let running: Promise<void> | null = null;
  let isWanted = false;
  let isClosed = false;

  /** Rows up to here wait in the backlog; what has a greater number is carried first. */
  let backlogThrough = tables.newestRow();

  const carryAll = async (): Promise<void> => {
    let failures = 0;
    while (!ending.signal.aborted) {
      isWanted = false;
      try {
        const isAny = await carryOnce();
        failures = 0;
        if (!isAny) return;
      } catch (error) {
        if (isClosed) return;
        // All that waits now has waited too long to be live.
        backlogThrough = tables.newestRow();
        current = problemOf(error, 'commit-failed');
        const growing = retry.firstMillis * 2 ** Math.min(failures, 20);
        failures += 1;
        // Several sites that lost one server together must not all reconnect at once.
        const jittered = Math.min(growing, retry.longestMillis) * (0.8 + Math.random() * 0.4);
        await pause(jittered, ending.signal);
      }
    }
  };

  /** Returns whether there was anything to carry. */
  const carryOnce = async (): Promise<boolean> => {
    const live = tables.next({ after: backlogThrough, most: READINGS_A_REQUEST });
    if (live !== null) {
      await carryRows(live);
      backlogThrough = live.last;
    }
    if (isClosed) return false;
    const oldest = tables.next({ after: 0, most: READINGS_A_REQUEST });
    if (oldest !== null && oldest.first <= backlogThrough) await carryRows(oldest);
    return live !== null || oldest !== null;
  };

  const carryRows = async (rows: Unsent): Promise<void> => {
    const refused = (await carryLines(rows.readings, server.write, server.check)).map(({ line, reason }) => ({
      reading: line,
      reason,
    }));
    if (isClosed) return;
    tables.sent(rows, refused);
    const reason = refused[0]?.reason;
    current = reason === undefined ? null : problem('readings-refused', { count: refused.length, reason });
  };

  const wake = (): void => {
    if (ending.signal.aborted) return;
    isWanted = true;
    running ??= carryAll().finally(() => {
      running = null;
      // Something arrived between the last look and the end of the run.
      if (isWanted) wake();
    });
  };
  wake();
  return {
    wake,
    problem: () => current,
    close: async () => {
      ending.abort();
      await Promise.race([running, delay(LAST_REQUEST_MILLIS, undefined, { ref: false })]);
      isClosed = true;
    },
  };
}
