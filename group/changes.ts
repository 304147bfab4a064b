// When a lab reported how it stands, from whichever copy took it. The first of many is passed on at once, the rest
// together a little later.

import { setTimeout as delay } from 'node:timers/promises';
import pg from 'pg';
import { STANDING_CHANNEL } from './write.ts';

export interface Changes {
  readonly subscribe: (listener: () => void) => () => void;
  readonly stop: () => Promise<void>;
}

const TOGETHER_MILLIS = 500;
const RETRY_MILLIS = 1000;

export function followChanges(postgres: string): Changes {
  const listeners = new Set<() => void>();
  const stopping = new AbortController();
  let timer: NodeJS.Timeout | null = null;
  let isDue = false;
  const pass = (): void => {
    for (const listener of listeners) listener();
  };
  const changed = (): void => {
    if (timer !== null) {
      isDue = true;
      return;
    }
    pass();
    timer = setTimeout(() => {
      timer = null;
      if (!isDue) return;
      isDue = false;
      changed();
    }, TOGETHER_MILLIS);
  };
  const listen = async (): Promise<void> => {
    const client = new pg.Client({ connectionString: postgres, keepAlive: true });
    const ended = new Promise<void>((done) => {
      client.on('error', () => done());
      client.on('end', () => done());
      stopping.signal.addEventListener('abort', () => done(), { once: true });
    });
    try {
      await client.connect();
      client.on('notification', changed);
      await client.query(`LISTEN ${STANDING_CHANNEL}`);
      // What was reported while nobody listened.
      changed();
      await ended;
    } finally {
      await client.end().catch(() => {});
    }
  };
  const run = async (): Promise<void> => {
    while (!stopping.signal.aborted) {
      await listen().catch(() => {});
      await delay(RETRY_MILLIS, undefined, { signal: stopping.signal }).catch(() => {});
    }
  };
  const done = run();
  return {
    subscribe: (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    stop: async () => {
      stopping.abort();
      if (timer !== null) clearTimeout(timer);
      await done;
    },
  };
}
