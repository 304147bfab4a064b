// Starts the built product as a process of its own, as a lab would, on free ports and a folder of its own.

import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { until } from './until.ts';

/** From the root of the checkout, where tests and benches run. */
const main = resolve('dist/cli/main.js');

export interface LabProcess {
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

export interface LabProcessOptions {
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

/** Runs `dist/cli/main.js`; resolves when it has printed the address to open. */
export async function startLabProcess(options: LabProcessOptions = {}): Promise<LabProcess> {
  const data = options.data ?? (await temporaryFolder()).path;
  const child = spawn(
    process.execPath,
    ['--disable-warning=ExperimentalWarning', main, '--data', data, ...(options.args ?? ['--port', '0'])],
    // Receivers of tests are on this machine.
    {
      env: { ...process.env, WAXWARDEN_WEBHOOK_HOSTS: '127.0.0.1', ...options.env },
      stdio: ['ignore', 'pipe', 'pipe'],
    },
  );
  let printed = '';
  child.stdout?.on('data', (chunk) => (printed += chunk));
  child.stderr?.on('data', (chunk) => (printed += chunk));
  const address = await until(() => {
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

/** Makes the first person with the code that the console printed; returns the cookie to send along. */
export async function joinAsFirst(labProcess: LabProcess): Promise<string> {
  const code = await until(() => /with the code (\S+)/.exec(labProcess.printed())?.[1]);
  const response = await labProcess.post('/api/join', {
    code,
    name: 'Ilse Brandt',
    password: 'seven warm sticks of wax',
  });
  const cookie = response.headers.getSetCookie()[0]?.split(';')[0];
  if (!response.ok || cookie === undefined)
    throw new Error(`join: ${response.status} ${await response.text()}`);
  return cookie;
}

/** A request of the person with the cookie; rejects when it is refused. */
export const askAs = async (
  { address }: Pick<LabProcess, 'address'>,
  cookie: string,
  method: string,
  path: string,
  body?: object,
): Promise<Response> => {
  const response = await fetch(address + path, {
    method,
    headers: { 'content-type': 'application/json', origin: address, cookie },
    ...(body && { body: JSON.stringify(body) }),
  });
  if (!response.ok) throw new Error(`${path}: ${response.status} ${await response.text()}`);
  return response;
};
