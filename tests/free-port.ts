// A port that nobody listens on, for a program that must be given one. It lies below those that the system gives to
// outgoing connections and to any program that binds port 0, and each worker of the tests has ports of its own, given out in
// turn, so that nobody takes it before the program does, or while the program is being started again.

import { once } from 'node:events';
import { createServer } from 'node:net';

const LOWEST = 20_000;
/** Linux gives out 32768 and above by itself, other systems 49152 and above. */
const HIGHEST = 32_000;

const isFree = async (port: number): Promise<boolean> => {
  const server = createServer().listen(port, '127.0.0.1');
  try {
    await once(server, 'listening');
  } catch {
    return false;
  }
  server.close();
  await once(server, 'close');
  return true;
};

/** More than there are workers; a program without one has the first share. */
const SHARES = 16;
const SHARE = Math.floor((HIGHEST - LOWEST) / SHARES);
const first = LOWEST + (Number(process.env.VITEST_POOL_ID ?? 0) % SHARES) * SHARE;
/** Another run at the same time begins elsewhere. */
let next = Math.floor(Math.random() * SHARE);

export const freePort = async (): Promise<number> => {
  for (;;) {
    const port = first + next;
    next = (next + 1) % SHARE;
    if (await isFree(port)) return port;
  }
};
