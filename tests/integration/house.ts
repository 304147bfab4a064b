// Starts the built product as a process of its own, as a lab would, on free ports and a folder of its own.

import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtemp, rm } from 'node:fs/promises';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

const main = join(import.meta.dirname, '../../dist/cli/main.js');

export async function freePort(): Promise<number> {
  const server = createServer().listen(0, '127.0.0.1');
  await once(server, 'listening');
  const address = server.address();
  server.close();
  await once(server, 'close');
  if (address === null || typeof address === 'string') throw new Error('no port');
  return address.port;
}

export interface House {
  /** For example `http://127.0.0.1:41234`. */
  readonly address: string;
  readonly data: string;
  readonly process: ChildProcess;
  /** Everything printed so far. */
  readonly printed: () => string;
  readonly stop: (signal?: NodeJS.Signals) => Promise<number | null>;
  readonly get: <T>(path: string) => Promise<T>;
  readonly post: (path: string, body?: unknown) => Promise<Response>;
}

export interface HouseOptions {
  readonly args?: readonly string[];
  readonly data?: string;
  readonly env?: Readonly<Record<string, string>>;
  /** Sent with every request of `get` and `post`. */
  readonly headers?: Readonly<Record<string, string>>;
}

export const temporaryFolder = async (): Promise<{ path: string; remove: () => Promise<void> }> => {
  const path = await mkdtemp(join(tmpdir(), 'waxwarden-'));
  return { path, remove: () => rm(path, { recursive: true, force: true }) };
};

/** Waits until `probe` answers something; rejects after `millis` with what it was waiting for. */
export async function eventually<T>(
  what: string,
  probe: () => Promise<T | null | undefined | false> | T | null | undefined | false,
  millis = 30_000,
): Promise<T> {
  const end = Date.now() + millis;
  let problem: unknown = null;
  while (Date.now() < end) {
    try {
      const found = await probe();
      if (found) return found;
    } catch (error) {
      problem = error;
    }
    await new Promise((done) => setTimeout(done, 50));
  }
  throw new Error(`waited ${millis} ms in vain for ${what}`, { cause: problem });
}

/** Runs `dist/cli/main.js`; resolves when it has printed the address to open. */
export async function startHouse(options: HouseOptions = {}): Promise<House> {
  const data = options.data ?? (await temporaryFolder()).path;
  const child = spawn(
    process.execPath,
    ['--disable-warning=ExperimentalWarning', main, '--data', data, ...(options.args ?? ['--port', '0'])],
    { env: { ...process.env, ...options.env }, stdio: ['ignore', 'pipe', 'pipe'] },
  );
  let printed = '';
  child.stdout?.on('data', (chunk) => (printed += chunk));
  child.stderr?.on('data', (chunk) => (printed += chunk));
  const address = await eventually('the printed address', () => {
    if (child.exitCode !== null) throw new Error(`ended with ${child.exitCode}: ${printed}`);
    return /Open (https?:\/\/[^\s/]+)/.exec(printed)?.[1];
  });
  const headers = { 'content-type': 'application/json', ...options.headers };
  return {
    address,
    data,
    process: child,
    printed: () => printed,
    stop: async (signal = 'SIGTERM') => {
      if (child.exitCode === null && child.signalCode === null) {
        child.kill(signal);
        await once(child, 'exit');
      }
      return child.exitCode;
    },
    get: async (path) => {
      const response = await fetch(address + path, { headers });
      if (!response.ok) throw new Error(`${path}: ${response.status} ${await response.text()}`);
      return (await response.json()) as never;
    },
    post: (path, body = {}) =>
      fetch(address + path, {
        method: 'POST',
        headers: { ...headers, origin: address },
        body: JSON.stringify(body),
      }),
  };
}
