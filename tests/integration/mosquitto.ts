// A real Mosquitto for a test: on a free port, in a folder of its own, with the limits that a lab's broker needs.
// Stopping and starting again keeps port and folder, so that restarts and lost sessions can be tried.

import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { connect } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as delay } from 'node:timers/promises';
import { freePort } from '../free-port.ts';

export interface MosquittoOptions {
  /** Messages on the way to one client; Mosquitto's own default of 20 is far too few for a collector. */
  readonly maxInflight?: number;
  readonly maxQueued?: number;
  /** Keeps sessions and queues over a restart. */
  readonly persistence?: boolean;
  /** The whole configuration in place of one made of the above. */
  readonly configuration?: (folder: string, port: number) => string;
}

export interface Mosquitto {
  readonly port: number;
  readonly url: string;
  /** SIGTERM by default, which writes what is kept; SIGKILL is a crash. */
  readonly stop: (signal?: 'SIGTERM' | 'SIGKILL') => Promise<void>;
  /** Starts again with the same port and folder. */
  readonly start: () => Promise<void>;
  /** Stops and removes the folder. */
  readonly dispose: () => Promise<void>;
}

/** Looks at the port until someone answers there. */
const answering = async (port: number, child: ChildProcess): Promise<void> => {
  for (;;) {
    if (child.exitCode !== null) throw new Error(`mosquitto ended with status ${child.exitCode}`);
    const socket = connect(port, '127.0.0.1');
    const answered = await Promise.race([
      once(socket, 'connect').then(() => true),
      once(socket, 'error').then(
        () => false,
        () => false,
      ),
    ]).catch(() => false);
    socket.destroy();
    if (answered) return;
    await delay(10);
  }
};

export const startMosquitto = async (options: MosquittoOptions = {}): Promise<Mosquitto> => {
  const { maxInflight = 2000, maxQueued = 500_000, persistence = true, configuration } = options;
  const folder = mkdtempSync(join(tmpdir(), 'waxwarden-mosquitto-'));
  const port = await freePort();
  const file = join(folder, 'mosquitto.conf');
  writeFileSync(
    file,
    configuration?.(folder, port) ??
      [
        `listener ${port} 127.0.0.1`,
        'allow_anonymous true',
        `max_inflight_messages ${maxInflight}`,
        `max_queued_messages ${maxQueued}`,
        `persistence ${persistence}`,
        `persistence_location ${folder}/`,
        'user root',
        'log_dest none',
        '',
      ].join('\n'),
  );
  let child: ChildProcess | null = null;
  const start = async () => {
    child = spawn('mosquitto', ['-c', file], { stdio: 'ignore' });
    await answering(port, child);
  };
  const stop = async (signal: 'SIGTERM' | 'SIGKILL' = 'SIGTERM') => {
    const running = child;
    child = null;
    if (running === null || running.exitCode !== null) return;
    const ended = once(running, 'exit');
    running.kill(signal);
    await ended;
  };
  await start();
  return {
    port,
    url: `mqtt://127.0.0.1:${port}`,
    stop,
    start,
    dispose: async () => {
      await stop();
      rmSync(folder, { recursive: true, force: true });
    },
  };
};
