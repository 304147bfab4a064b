// Work over a connection to PostgreSQL that lasts as long as the process: when the connection is lost or the work fails,
// both begin anew after a pause.

import pg from 'pg';
import { pause } from '../collector/pause.ts';
import { reasonOf } from '../wax/problem-error.ts';

export interface Connected {
  readonly client: pg.Client;
  /** Aborted when the connection is lost, when `fail` is called and when the process stops; the work ends then. */
  readonly over: AbortSignal;
  /** The connection is of no use any more. */
  readonly fail: (error: unknown) => void;
}

export interface LastingWork {
  readonly connection: pg.ClientConfig;
  readonly retryMillis: number;
  readonly work: (connected: Connected) => Promise<void>;
  /** Called once for the same reason in a row. */
  readonly onTrouble: (reason: string) => void;
}

export interface LastingConnection {
  /** Resolves when the work has ended. */
  readonly stop: () => Promise<void>;
}

export function startLasting({ connection, retryMillis, work, onTrouble }: LastingWork): LastingConnection {
  const stopping = new AbortController();

  const workOnce = async (): Promise<void> => {
    const client = new pg.Client({ keepAlive: true, ...connection });
    const over = new AbortController();
    const cut = (): void => over.abort();
    let lost: unknown = null;
    const fail = (error: unknown): void => {
      lost ??= error;
      cut();
    };
    stopping.signal.addEventListener('abort', cut, { once: true });
    client.on('error', fail);
    try {
      await client.connect();
      await work({ client, over: over.signal, fail });
      if (lost !== null) throw lost;
    } finally {
      stopping.signal.removeEventListener('abort', cut);
      await client.end().catch(() => {});
    }
  };

  const run = async (): Promise<void> => {
    let lastTrouble = '';
    while (!stopping.signal.aborted) {
      try {
        await workOnce();
      } catch (error) {
        const reason = reasonOf(error);
        if (reason !== lastTrouble && !stopping.signal.aborted) onTrouble(reason);
        lastTrouble = reason;
        await pause(retryMillis, stopping.signal);
      }
    }
  };

  const ended = run();
  return {
    stop: async () => {
      stopping.abort();
      await ended;
    },
  };
}
