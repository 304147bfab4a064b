// What the InfluxDB store writes, read back by another program that takes the line protocol and shares no code with that
// server or its client.

import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { openInfluxStore } from '../../collector/store/influx-store.ts';
import { openDatabase } from '../../lab/database/database.ts';
import { freePort } from '../free-port.ts';
import { reading } from '../store-specification.ts';
import { until } from './until.ts';

interface ExportedSeries {
  readonly metric: Readonly<Record<string, string>>;
  readonly values: readonly number[];
  readonly timestamps: readonly number[];
}

let url = '';
let server: ChildProcess | null = null;
const folder = mkdtempSync(join(tmpdir(), 'waxwarden-'));

beforeAll(async () => {
  const port = await freePort();
  url = `http://127.0.0.1:${port}`;
  const started = spawn(
    'victoria-metrics',
    [
      `-storageDataPath=${join(folder, 'series')}`,
      `-httpListenAddr=127.0.0.1:${port}`,
      '-retentionPeriod=100y',
    ],
    { stdio: 'ignore' },
  );
  server = started;
  await until(async () => {
    if (started.exitCode !== null) throw new Error(`victoria-metrics ended with ${started.exitCode}`);
    return (await fetch(`${url}/health`).catch(() => null))?.ok;
  });
});
afterAll(async () => {
  if (server !== null && server.exitCode === null) {
    const ended = once(server, 'exit');
    server.kill();
    await ended;
  }
  rmSync(folder, { recursive: true, force: true });
});

const exported = async (metric: string): Promise<readonly ExportedSeries[]> => {
  await fetch(`${url}/internal/force_flush`);
  const answer = await fetch(
    `${url}/api/v1/export?${new URLSearchParams({ 'match[]': metric, start: '0' })}`,
  );
  const lines = (await answer.text()).split('\n').filter((line) => line !== '');
  return lines.map((line) => JSON.parse(line) as ExportedSeries);
};

it('every reading that the store writes is read back by an independent reader of the line protocol, bit for bit', async () => {
  const database = openDatabase(join(folder, 'lab.db'));
  const store = openInfluxStore(
    database,
    { url: `${url}/lab`, site: 'alder, "bench" = 2' },
    { firstMillis: 5, longestMillis: 40 },
  );
  const begin = Date.UTC(2026, 2, 1);
  const readings = Array.from({ length: 3000 }, (_, index) =>
    reading(
      index % 2 === 0 ? 'dip-wax' : 'shelf.air_2',
      begin + index * 977,
      Math.round((60 + 20 * Math.sin(index)) * 16) / 16,
    ),
  );
  await store.apply({ readings, ruleState: {}, alongside: [], offset: 1 });
  await until(() => database.writer.prepare('SELECT count(*) FROM influx_unsent').pluck().get() === 0);
  const series = await until(async () => {
    const found = await exported('wax_temperature_celsius');
    return found.reduce((sum, { values }) => sum + values.length, 0) === readings.length ? found : null;
  });
  for (const probe of ['dip-wax', 'shelf.air_2']) {
    const own = readings.filter((each) => each.probe === probe);
    const found = series.find(({ metric }) => metric.probe === probe);
    expect(found?.metric.site).toBe('alder, "bench" = 2');
    expect(found?.timestamps).toEqual(own.map(({ at }) => at));
    expect(found?.values).toEqual(own.map(({ celsius }) => celsius));
  }
  expect((await store.health()).ok).toBe(true);
  await store.close();
  database.close();
});
