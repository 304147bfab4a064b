// The gateway as a process of its own, with a simulated one-wire tree, a real Mosquitto that dies, and intake behind it.

import { type ChildProcess, execFileSync, spawn } from 'node:child_process';
import { once } from 'node:events';
import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import Database from 'better-sqlite3';
import { connectAsync } from 'mqtt';
import { afterEach, describe, expect, it } from 'vitest';
import { startIntake } from './built-intake.ts';
import { entriesOf } from './journal-entries.ts';
import { tailReader } from '../../collector/journal/tail-reader.ts';
import { withArrived } from '../../collector/qualify/sequence.ts';
import type { Entry } from '../../lab/entry.ts';
import { startMosquitto } from './mosquitto.ts';
import { until } from './until.ts';

const cleanups: (() => unknown)[] = [];
afterEach(async () => {
  for (const cleanup of cleanups.splice(0).reverse()) await cleanup();
});
const temporary = (): string => {
  const folder = mkdtempSync(join(tmpdir(), 'waxwarden-gateway-'));
  cleanups.push(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
};

/** A tree with two chips at 61.5 °C and 22 °C. */
function oneWireTree(): string {
  const folder = temporary();
  for (const [chip, hex] of [
    ['28-000000000001', 'd8 03 4b 46 7f ff 0c 10 5c'],
    ['28-000000000002', '60 01 4b 46 7f ff 0c 10 5c'],
  ] as const) {
    mkdirSync(join(folder, chip));
    writeFileSync(join(folder, chip, 'w1_slave'), `${hex} : crc=5c YES\n${hex} t=0\n`);
  }
  return folder;
}

/** From the root of the checkout, where tests run. */
const GATEWAY = 'dist/gateway/main.js';

function startGateway(settings: string): ChildProcess {
  const child = spawn(process.execPath, ['--disable-warning=ExperimentalWarning', GATEWAY, settings], {
    stdio: 'ignore',
  });
  cleanups.push(() => child.kill('SIGKILL'));
  return child;
}

const kill = async (child: ChildProcess): Promise<void> => {
  const ended = once(child, 'exit');
  child.kill('SIGKILL');
  await ended;
};

/** Sweeps in the buffer; none while the gateway has not made it yet. */
const waiting = (buffer: string): number => {
  if (!existsSync(buffer)) return 0;
  const database = new Database(buffer, { readonly: true });
  try {
    const tables = database.prepare("SELECT 1 FROM sqlite_master WHERE name = 'waiting'").all();
    if (tables.length === 0) return 0;
    return database.prepare<[], number>('SELECT count(*) FROM waiting').pluck().get() ?? 0;
  } finally {
    database.close();
  }
};

it('a gateway that is cut off and killed meanwhile loses nothing, and sends the present before the past', async () => {
  const broker = await startMosquitto();
  cleanups.push(broker.dispose);
  const folder = temporary();
  const journalFolder = join(folder, 'journal');
  const intake = await startIntake({
    site: 'lab-1',
    journalFolder,
    broker: { kind: 'external', url: broker.url },
  });
  cleanups.push(intake.stop);
  const entries = () => entriesOf(journalFolder, intake);
  const sequencesOf = (all: readonly Entry[]) =>
    all.flatMap((entry) => (entry.kind === 'sequence' ? entry.sequences : []));
  const sequences = () => sequencesOf(entries());
  const online = () => entries().flatMap((entry) => (entry.kind === 'gateway' ? [entry.online] : []));

  const buffer = join(folder, 'buffer.db');
  const settings = join(folder, 'gateway.yaml');
  writeFileSync(
    settings,
    `site: lab-1
gateway: bench-1
broker: { url: "${broker.url}" }
buffer_file: ${buffer}
every_seconds: 1
clock: trusted
one_wire: { folder: ${oneWireTree()}, probes: { 28-000000000001: pot-1 } }
`,
  );
  const first = startGateway(settings);
  await until(() => sequences().length >= 2);
  await broker.stop('SIGKILL');
  await until(() => waiting(buffer) >= 2);
  await kill(first);
  const buffered = waiting(buffer);
  startGateway(settings);
  await until(() => waiting(buffer) >= buffered + 2);
  const before = entries().length;
  await broker.start();
  // The broker has acknowledged what the buffer let go; it comes to the journal a little later.
  const missing = () => withArrived({ newest: 0, missing: [] }, sequences()).missing;
  await until(() => waiting(buffer) === 0 && entries().length > before + 2 && missing().length === 0);

  // The gateway goes on measuring: everything below is of one look.
  const all = entries();
  const readings = all.flatMap((entry) =>
    entry.kind === 'readings'
      ? entry.readings.map((reading) => ({ ...reading, isPast: entry.isHistorical === true }))
      : [],
  );
  const record = withArrived({ newest: 0, missing: [] }, sequencesOf(all));
  expect(record.missing).toEqual([]);
  expect(new Set(sequencesOf(all)).size).toBe(record.newest);
  for (const probe of ['pot-1', '28-000000000002'])
    expect(new Set(readings.filter((each) => each.probe === probe).map(({ at }) => at)).size).toBe(
      record.newest,
    );
  const after = all.slice(before).filter((entry) => entry.kind === 'readings');
  expect(after[0]?.isHistorical).toBeUndefined();
  const past = readings.filter(({ isPast, probe }) => isPast && probe === 'pot-1').map(({ at }) => at);
  expect(past.length).toBeGreaterThanOrEqual(buffered);
  expect(past).toEqual([...past].sort((first, second) => first - second));
  expect(readings.filter(({ probe }) => probe === 'pot-1').every(({ celsius }) => celsius === 61.5)).toBe(
    true,
  );
  expect(online()[0]).toBe(true);
});

it('a gateway keeps what a broker acknowledges while nobody subscribes', async () => {
  const broker = await startMosquitto();
  cleanups.push(broker.dispose);
  const folder = temporary();
  const buffer = join(folder, 'buffer.db');
  const settings = join(folder, 'gateway.yaml');
  writeFileSync(
    settings,
    `site: lab-1\ngateway: bench-1\nbroker: { url: "${broker.url}" }\nbuffer_file: ${buffer}\nevery_seconds: 1\nclock: trusted\none_wire: { folder: ${oneWireTree()} }\n`,
  );
  startGateway(settings);
  await until(() => waiting(buffer) >= 3);
  const collector = await connectAsync(broker.url, { clientId: 'collector' });
  cleanups.push(() => collector.end(true));
  await collector.subscribeAsync('wax/lab-1/#', { qos: 1 });
  await until(() => waiting(buffer) === 0);
});

it('a gateway falls back to MQTT 3.1.1 at a broker that has nothing newer', async () => {
  const folder = temporary();
  const journalFolder = join(folder, 'journal');
  const intake = await startIntake({
    site: 'lab-1',
    journalFolder,
    broker: { kind: 'embedded', host: '127.0.0.1', port: 0, login: null },
  });
  cleanups.push(intake.stop);
  const { broker } = intake.status();
  if (broker.state !== 'listening') throw new Error(`the broker is ${broker.state}`);
  const settings = join(folder, 'gateway.yaml');
  writeFileSync(
    settings,
    `site: lab-1\ngateway: bench-1\nbroker: { url: "mqtt://127.0.0.1:${broker.port}" }\nbuffer_file: ${join(folder, 'b.db')}\nevery_seconds: 1\nclock: trusted\none_wire: { folder: ${oneWireTree()} }\n`,
  );
  startGateway(settings);
  const reader = tailReader(journalFolder);
  cleanups.push(() => reader.close());
  await until(() => reader.read(0, intake.journalEnd()).entries.some((entry) => entry.kind === 'readings'));
});

/** A broker, an intake that reads there, and settings of a gateway that sends there each second. */
const labWithGateway = async () => {
  const broker = await startMosquitto();
  cleanups.push(broker.dispose);
  const folder = temporary();
  const journalFolder = join(folder, 'journal');
  const intake = await startIntake({
    site: 'lab-1',
    journalFolder,
    broker: { kind: 'external', url: broker.url },
  });
  cleanups.push(intake.stop);
  const settings = join(folder, 'gateway.yaml');
  const buffer = join(folder, 'b.db');
  writeFileSync(
    settings,
    `site: lab-1\ngateway: bench-1\nbroker: { url: "${broker.url}" }\nbuffer_file: ${buffer}\nevery_seconds: 1\nclock: trusted\none_wire: { folder: ${oneWireTree()} }\n`,
  );
  return { buffer, settings, entries: () => entriesOf(journalFolder, intake) };
};

it('the last will of a gateway that dies takes it offline', async () => {
  const { entries, settings } = await labWithGateway();
  const online = () => entries().flatMap((entry) => (entry.kind === 'gateway' ? [entry.online] : []));
  const gateway = startGateway(settings);
  await until(() => online().at(-1) === true);
  await kill(gateway);
  await until(() => online().at(-1) === false);
});

it('a gateway whose buffer file is broken goes online all the same', async () => {
  const { buffer, entries, settings } = await labWithGateway();
  writeFileSync(buffer, 'what a worn card gives back'.repeat(1000));
  startGateway(settings);
  await until(() => entries().some(({ kind }) => kind === 'readings'));
  expect(existsSync(`${buffer}.broken`)).toBe(true);
});

describe('the status with which a gateway ends', () => {
  const ended = async (settings: string): Promise<readonly [status: number | null, printed: string]> => {
    const child = spawn(process.execPath, [GATEWAY, settings], { stdio: ['ignore', 'ignore', 'pipe'] });
    cleanups.push(() => child.kill('SIGKILL'));
    let printed = '';
    child.stderr.on('data', (data) => {
      printed += String(data);
    });
    const [status] = (await once(child, 'close')) as [number | null];
    return [status, printed];
  };
  const unit = readFileSync(resolve('deploy/gateway/waxwarden-gateway.service'), 'utf8');
  const [, staysDown] = /^RestartPreventExitStatus=(\d+)$/m.exec(unit) ?? [];

  it.each([
    ['settings that are wrong', 'site: lab-1\n', /gateway\.yaml: .*broker/s],
    ['a settings file that is not there', null, /gateway\.yaml: .*ENOENT/s],
  ])('reports of %s that it stays down until somebody has seen to it', async (_, text, said) => {
    const settings = join(temporary(), 'gateway.yaml');
    if (text !== null) writeFileSync(settings, text);
    const [status, printed] = await ended(settings);
    expect(String(status)).toBe(staysDown);
    expect(printed).toMatch(said);
  });

  it('reports of a buffer that another process holds that the service may start it anew', async () => {
    const { buffer, settings } = await labWithGateway();
    const holder = new Database(buffer);
    cleanups.push(() => holder.close());
    holder.exec('CREATE TABLE held (value); BEGIN EXCLUSIVE');
    const [status, printed] = await ended(settings);
    expect(status).toBe(1);
    expect(String(status)).not.toBe(staysDown);
    expect(printed).toMatch(/locked/);
  });

  it('reports of a stop by the service that all is well', async () => {
    const { entries, settings } = await labWithGateway();
    const child = startGateway(settings);
    await until(() => entries().some(({ kind }) => kind === 'readings'));
    child.kill('SIGTERM');
    expect(await once(child, 'exit')).toEqual([0, null]);
  });
});

it('the unit file of the gateway is accepted by systemd', () => {
  const unit = resolve('deploy/gateway/waxwarden-gateway.service');
  expect(readFileSync(unit, 'utf8')).toContain('dist/gateway/main.js');
  expect(() => execFileSync('systemd-analyze', ['verify', unit], { stdio: 'pipe' })).not.toThrow();
});
