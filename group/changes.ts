// When a lab reported its state, from whichever copy took it. The first of many is passed on at once, the rest
// together a little later.

import { once } from 'node:events';
import { startLasting } from './lasting-connection.ts';
import { STANDING_CHANNEL } from './write.ts';

export interface Changes {
  readonly subscribe: (listener: () => void) => () => void;
  readonly stop: () => Promise<void>;
}

const TOGETHER_MILLIS = 500;
const RETRY_MILLIS = 1000;

export function followChanges(postgres: string): Changes {
  const listeners = new Set<() => void>();
  let timer: NodeJS.Timeout | null = null;
  let isDue = false;
  const pass = (): void => {
    for (const listener of listeners) listener();
  };
  const passSoon = (): void => {
    if (timer !== null) {
      isDue = true;
      return;
    }
    pass();
    timer = setTimeout(() => {
      timer = null;
      if (!isDue) return;
      isDue = false;
      passSoon();
    }, TOGETHER_MILLIS);
  };
  const listening = startLasting({
    connection: { connectionString: postgres },
    retryMillis: RETRY_MILLIS,
    work: async ({ client, over }) => {
      client.on('notification', passSoon);
      await client.query(`LISTEN ${STANDING_CHANNEL}`);
      // What was reported while nobody listened.
      passSoon();
      if (!over.aborted) await once(over, 'abort');
    },
    // The copies of this process report that PostgreSQL is away.
    onTrouble: () => {},
  });
  return {
    subscribe: (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    stop: async () => {
      if (timer !== null) clearTimeout(timer);
      await listening.stop();
    },
  };
}
