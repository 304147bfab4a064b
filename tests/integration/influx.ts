// A real InfluxDB for a test: on a free port, in a folder of its own. Stopping and starting again keeps port and
// data, so that an outage can be tried.

import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { freePort } from '../free-port.ts';
import { until } from './until.ts';

export interface Influx {
  /** `http://127.0.0.1:PORT`. */
  readonly url: string;
  /** Holds `data`, `wal` and `meta`. */
  readonly folder: string;
  /** Of the server that runs now. */
  readonly processId: () => number;
  /** SIGTERM by default; SIGKILL is a crash. */
  readonly stop: (signal?: 'SIGTERM' | 'SIGKILL') => Promise<void>;
  readonly start: () => Promise<void>;
  /** Runs InfluxQL and returns the JSON; for what a test must set up or look at behind the product's back. */
  readonly ask: (influxQl: string, login?: string, database?: string) => Promise<unknown>;
  /** Stops and removes the folder. */
  readonly dispose: () => Promise<void>;
}

interface InfluxOptions {
  readonly login?: boolean;
  /** How long a shard must rest before it is compacted whole, as `2s`; the server's own usual value when absent. */
  readonly compactsAfter?: string;
}

export const startInflux = async (options: InfluxOptions = {}): Promise<Influx> => {
  const folder = mkdtempSync(join(tmpdir(), 'waxwarden-influx-'));
  const [port, innerPort] = [await freePort(), await freePort()];
  const file = join(folder, 'influxdb.conf');
  writeFileSync(
    file,
    `reporting-disabled = true
bind-address = "127.0.0.1:${innerPort}"
[meta]
  dir = "${folder}/meta"
[data]
  dir = "${folder}/data"
  wal-dir = "${folder}/wal"
  query-log-enabled = false
${options.compactsAfter === undefined ? '' : `  cache-snapshot-write-cold-duration = "${options.compactsAfter}"\n  compact-full-write-cold-duration = "${options.compactsAfter}"`}
[http]
  bind-address = "127.0.0.1:${port}"
  auth-enabled = ${options.login === true}
  log-enabled = false
[monitor]
  store-enabled = false
[logging]
  level = "error"
  suppress-logo = true
`,
  );
  const url = `http://127.0.0.1:${port}`;
  let child: ChildProcess | null = null;
  const start = async () => {
    const started = spawn('influxd', ['run', '-config', file], { stdio: 'ignore' });
    child = started;
    await until(async () => {
      if (started.exitCode !== null) throw new Error(`influxd ended with status ${started.exitCode}`);
      const answer = await fetch(`${url}/ping`).catch(() => null);
      return answer?.ok;
    });
  };
  const stop = async (signal: 'SIGTERM' | 'SIGKILL' = 'SIGTERM') => {
    if (child === null || child.exitCode !== null || child.signalCode !== null) return;
    const ended = once(child, 'exit');
    child.kill(signal);
    await ended;
  };
  await start();
  return {
    url,
    folder,
    processId: () => {
      if (child?.pid === undefined) throw new Error('influxd does not run');
      return child.pid;
    },
    stop,
    start,
    ask: async (influxQl, login, database = '') => {
      const headers = login === undefined ? {} : { authorization: `Basic ${btoa(login)}` };
      const query = new URLSearchParams({ q: influxQl, epoch: 'ms', db: database });
      const answer = await fetch(`${url}/query?${query}`, { method: 'POST', headers });
      return answer.json();
    },
    dispose: async () => {
      await stop();
      rmSync(folder, { recursive: true, force: true });
    },
  };
};
