// Bytes a reading on disk: a week of thirty probes, rollups included, in the embedded store as it seals hour by hour,
// beside InfluxDB and victoria-metrics that hold the same readings and have compacted. Once with the lateness of a
// gateway's message shared by its probes, once with one for each probe.

import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, readdirSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as delay } from 'node:timers/promises';
import { openSqliteStore } from '../../collector/store/sqlite-store.ts';
import { openDatabase } from '../../lab/database/database.ts';
import type { Reading } from '../../lab/reading.ts';
import { celsius, epochMillis, MILLIS_PER_DAY, MILLIS_PER_HOUR } from '../../wax/units.ts';
import { freePort } from '../free-port.ts';
import { startInflux } from '../integration/influx.ts';
import { until } from '../integration/until.ts';
import { type Jitter, labWeek, PROBES, STEP_MILLIS } from './store-data/lab-week.ts';

const DAYS = 7;
const STEPS_AN_HOUR = MILLIS_PER_HOUR / STEP_MILLIS;
const READINGS = PROBES * DAYS * 24 * STEPS_AN_HOUR;
/** Whole days that are over, and young enough for any retention. */
const START = (Math.floor(Date.now() / MILLIS_PER_DAY) - DAYS - 1) * MILLIS_PER_DAY;

function* hours(jitter: Jitter): Generator<readonly Reading[]> {
  const probes = labWeek(START, jitter);
  for (let hour = 0; hour < DAYS * 24; hour += 1) {
    const readings: Reading[] = [];
    for (let step = hour * STEPS_AN_HOUR; step < (hour + 1) * STEPS_AN_HOUR; step += 1)
      for (const { probe, at, celsius: value } of probes)
        readings.push({ probe, at: epochMillis(at(step)), celsius: celsius(value(step)), quality: 'good' });
    yield readings;
  }
}

const bytesIn = (path: string): number =>
  statSync(path).isDirectory()
    ? readdirSync(path).reduce((sum, name) => sum + bytesIn(join(path, name)), 0)
    : statSync(path).size;

/** The same number twice with a while between. */
async function settledBytes(path: string, pauseMillis: number): Promise<number> {
  let before = -1;
  for (;;) {
    const now = bytesIn(path);
    if (now === before) return now;
    before = now;
    await delay(pauseMillis);
  }
}

async function ours(folder: string, jitter: Jitter): Promise<number> {
  const file = join(folder, 'lab.db');
  const database = openDatabase(file);
  const store = openSqliteStore(database);
  let offset = 0;
  for (const readings of hours(jitter)) {
    await store.apply({ readings, ruleState: {}, alongside: [], offset: ++offset });
    await store.tidy(epochMillis(START + offset * MILLIS_PER_HOUR + 600_000), () => null);
  }
  await store.tidy(epochMillis(START + DAYS * MILLIS_PER_DAY + 2 * MILLIS_PER_HOUR), () => null);
  await store.close();
  database.close();
  return bytesIn(file);
}

const lines = (readings: readonly Reading[]): string =>
  readings
    .map(
      ({ probe, at, celsius: value }) => `wax_temperature,site=bench,probe=${probe} celsius=${value} ${at}`,
    )
    .join('\n');

async function fill(url: string, jitter: Jitter): Promise<void> {
  for (const readings of hours(jitter)) {
    const answer = await fetch(`${url}/write?db=bench&precision=ms`, {
      method: 'POST',
      body: lines(readings),
    });
    if (!answer.ok) throw new Error(`${url} refused a write: ${answer.status} ${await answer.text()}`);
  }
}

async function influx(jitter: Jitter): Promise<number> {
  const server = await startInflux({ compactsAfter: '2s' });
  try {
    await server.ask('CREATE DATABASE bench');
    await fill(server.url, jitter);
    await delay(30_000);
    return await settledBytes(join(server.folder, 'data'), 10_000);
  } finally {
    await server.dispose();
  }
}

async function victoria(folder: string, jitter: Jitter): Promise<number> {
  const path = join(folder, 'victoria');
  const url = `http://127.0.0.1:${await freePort()}`;
  const server: ChildProcess = spawn(
    'victoria-metrics',
    [`-storageDataPath=${path}`, `-httpListenAddr=${url.slice('http://'.length)}`, '-retentionPeriod=100y'],
    { stdio: 'ignore' },
  );
  try {
    await until(async () => {
      if (server.exitCode !== null) throw new Error(`victoria-metrics ended with ${server.exitCode}`);
      return (await fetch(`${url}/health`).catch(() => null))?.ok;
    });
    await fill(url, jitter);
    await fetch(`${url}/internal/force_flush`);
    await fetch(`${url}/internal/force_merge`);
    await delay(15_000);
    return await settledBytes(join(path, 'data'), 5_000);
  } finally {
    const ended = once(server, 'exit');
    server.kill();
    await ended;
  }
}

const figure = (bytes: number): number => Number((bytes / READINGS).toFixed(4));

export const run = async (): Promise<void> => {
  const notes = { gateway: 'one lateness a gateway message', probe: 'a lateness for each reading' };
  for (const jitter of ['gateway', 'probe'] as const) {
    const folder = mkdtempSync(join(tmpdir(), 'waxwarden-bench-'));
    const own = await ours(folder, jitter);
    for (const [peer, bytes] of [
      ['victoria-metrics, merged', await victoria(folder, jitter)],
      ['InfluxDB, compacted', await influx(jitter)],
    ] as const)
      console.log(
        JSON.stringify({
          name: jitter === 'gateway' ? 'disk' : 'disk-each-late',
          value: figure(own),
          unit: 'bytes/reading',
          peer,
          peer_value: figure(bytes),
          ratio: own / bytes,
          n: READINGS,
          note: `${PROBES} probes every ${STEP_MILLIS / 1000} s for ${DAYS} days, ${notes[jitter]}; a smaller ratio is better`,
        }),
      );
    rmSync(folder, { recursive: true });
  }
};
