// A paired gateway over losses of the lab itself, with the built product on both sides: its account, its numbers and what
// it measured meanwhile are all there afterwards.

import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { copyFileSync, mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import Database from 'better-sqlite3';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { freePort } from '../free-port.ts';
import { joinAsFirst, type LabProcess, startLabProcess, temporaryFolder } from './lab-process.ts';
import { until } from './until.ts';

const main = resolve('dist/cli/main.js');

interface SeenGateway {
  readonly gateway: string;
  readonly online: boolean | null;
  readonly sweeps: { readonly newest: number; readonly missing: number } | null;
}

let folder: { path: string; remove: () => Promise<void> };
let lab: LabProcess;
let cookie: string;
let ports: readonly [web: number, broker: number];
let gateway: ChildProcess | null = null;

const startLab = (): Promise<LabProcess> =>
  startLabProcess({
    data: join(folder.path, 'data'),
    args: ['--port', String(ports[0]), '--broker', `embedded:${ports[1]}`],
  });
const startGateway = (): void => {
  gateway = spawn(process.execPath, [main, 'gateway', 'gateway.yaml'], { cwd: folder.path, stdio: 'ignore' });
};
const stopGateway = async (signal: NodeJS.Signals): Promise<void> => {
  if (gateway === null || gateway.exitCode !== null || gateway.signalCode !== null) return;
  const ended = once(gateway, 'exit');
  gateway.kill(signal);
  await ended;
};
const read = async <T>(path: string): Promise<T> =>
  (await (await fetch(lab.address + path, { headers: { cookie } })).json()) as T;
const sweeps = async (): Promise<NonNullable<SeenGateway['sweeps']>> => {
  const all = await read<readonly SeenGateway[]>('/api/gateways');
  return all.find((each) => each.gateway === 'board-1')?.sweeps ?? { newest: 0, missing: -1 };
};
const buffered = (): { readonly waiting: number; readonly newest: number } => {
  const database = new Database(join(folder.path, 'board-1.db'), { readonly: true });
  try {
    const row = database.prepare<[], { waiting: number; newest: number | null }>(
      'SELECT count(*) AS waiting, max(sequence) AS newest FROM waiting',
    );
    const { waiting, newest } = row.get() ?? { waiting: 0, newest: 0 };
    return { waiting, newest: newest ?? 0 };
  } finally {
    database.close();
  }
};

beforeEach(async () => {
  folder = await temporaryFolder();
  ports = [await freePort(), await freePort()];
  lab = await startLab();
  cookie = await joinAsFirst(lab);
  const made = await fetch(`${lab.address}/api/gateways`, {
    method: 'POST',
    headers: { 'content-type': 'application/json', origin: lab.address, cookie },
    body: JSON.stringify({ gateway: 'board-1' }),
  });
  const { code } = (await made.json()) as { readonly code: string };
  const chip = join(folder.path, 'w1', '28-000000000001');
  mkdirSync(chip, { recursive: true });
  writeFileSync(join(chip, 'w1_slave'), 'd8 03 4b 46 7f ff 0c 10 5c : crc=5c YES\nd8 t=61500\n');
  writeFileSync(
    join(folder.path, 'gateway.yaml'),
    `every_seconds: 1\nclock: trusted\none_wire: { folder: ${join(folder.path, 'w1')}, probes: { 28-000000000001: pot-9 } }\n`,
  );
  const paired = spawnSync(process.execPath, [main, 'gateway', 'pair', lab.address, code, 'gateway.yaml'], {
    cwd: folder.path,
    encoding: 'utf8',
  });
  expect([paired.status, paired.stderr]).toEqual([0, expect.stringContaining('paired as "board-1"')]);
  startGateway();
  await until(async () => (await sweeps()).newest > 2);
});
afterEach(async () => {
  await stopGateway('SIGKILL');
  await lab.stop();
  await folder.remove();
});

it('a paired gateway whose lab is killed and stays away keeps its account and brings all that it measured meanwhile', async () => {
  await lab.stop('SIGKILL');
  const { newest } = await until(() => {
    const now = buffered();
    return now.waiting > 5 ? now : null;
  });
  await stopGateway('SIGKILL');
  startGateway();
  lab = await startLab();
  const after = await until(async () => {
    const now = await sweeps();
    return now.newest > newest && now.missing === 0 ? now : null;
  });
  expect(after.newest).toBeGreaterThan(newest);
  await until(() => buffered().waiting < 3);
});

it('readings of a gateway whose buffer was put back to an older copy are all stored, none in place of another', async () => {
  const file = join(folder.path, 'board-1.db');
  await stopGateway('SIGTERM');
  const copy = join(folder.path, 'copy.db');
  copyFileSync(file, copy);
  startGateway();
  const before = await sweeps();
  await until(async () => (await sweeps()).newest > before.newest + 4);
  await stopGateway('SIGTERM');
  const history = async (): Promise<number> => {
    const [from, to] = [-3_600_000, 3_600_000].map((away) => new Date(Date.now() + away).toISOString());
    const { buckets } = await read<{ readonly buckets: readonly { readonly count: number }[] }>(
      `/api/readings?probe=pot-9&from=${from}&to=${to}&points=2000`,
    );
    return buckets.reduce((sum, { count }) => sum + count, 0);
  };
  const stored = await history();
  for (const end of ['-wal', '-shm']) rmSync(file + end, { force: true });
  copyFileSync(copy, file);
  startGateway();
  // More than the numbers that it counts a second time.
  await until(async () => (await history()) > stored + 8);
  expect((await sweeps()).missing).toBe(0);
});
