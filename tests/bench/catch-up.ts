// A day of thirty probes that waited while an InfluxDB server was away is carried over, while live readings come in: how
// long a live reading takes until the server has it, during that and when nothing waits.

import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as delay } from 'node:timers/promises';
import { openInfluxStore } from '../../collector/store/influx-store.ts';
import { openDatabase } from '../../lab/database/database.ts';
import type { Reading } from '../../lab/reading.ts';
import { celsius, epochMillis, MILLIS_PER_DAY } from '../../wax/units.ts';
import { startInflux } from '../integration/influx.ts';
import { until } from '../integration/until.ts';
import { labWeek, PROBES, STEP_MILLIS } from './store-data/lab-week.ts';

const STEPS = MILLIS_PER_DAY / STEP_MILLIS;
const STEPS_A_BATCH = 60;
const LIVE_EVERY_MILLIS = 150;
const LIVE_AFTERWARDS = 100;

const at = (share: number, values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[Math.min(values.length - 1, Math.floor(values.length * share))] ?? 0;

export const run = async (): Promise<void> => {
  const folder = mkdtempSync(join(tmpdir(), 'waxwarden-bench-'));
  const server = await startInflux();
  const database = openDatabase(join(folder, 'lab.db'));
  const store = openInfluxStore(
    database,
    { url: `${server.url}/bench`, site: 'bench' },
    { firstMillis: 50, longestMillis: 500 },
  );
  let offset = 0;
  const apply = (readings: readonly Reading[]) =>
    store.apply({ readings, ruleState: {}, alongside: [], offset: ++offset });
  await server.stop();
  const start = Date.now() - 2 * MILLIS_PER_DAY;
  const probes = labWeek(start, 'gateway');
  for (let from = 0; from < STEPS; from += STEPS_A_BATCH) {
    const readings: Reading[] = [];
    for (let step = from; step < from + STEPS_A_BATCH; step += 1)
      for (const { probe, at: when, celsius: value } of probes)
        readings.push({ probe, at: epochMillis(when(step)), celsius: celsius(value(step)), quality: 'good' });
    await apply(readings);
  }
  const waiting = database.writer.prepare<[], number>('SELECT count(*) FROM influx_unsent').pluck();
  await until(async () => !(await store.health()).ok);
  await server.start();
  await until(async () => (await store.health()).ok || null);
  const liveMillis = async (): Promise<number> => {
    const now = Date.now();
    const begin = performance.now();
    await apply([{ probe: 'live', at: epochMillis(now), celsius: celsius(60), quality: 'good' }]);
    const newest =
      database.writer.prepare<[], number | null>('SELECT max(id) FROM influx_unsent').pluck().get() ?? 0;
    const isThere = database.writer
      .prepare<[number], number>('SELECT 1 FROM influx_unsent WHERE id = ?')
      .pluck();
    await until(() => isThere.get(newest) === undefined);
    return performance.now() - begin;
  };
  const [during, afterwards]: [number[], number[]] = [[], []];
  const begin = performance.now();
  while ((waiting.get() ?? 0) > 1) {
    during.push(await liveMillis());
    await delay(LIVE_EVERY_MILLIS);
  }
  const seconds = (performance.now() - begin) / 1000;
  while (afterwards.length < LIVE_AFTERWARDS) {
    afterwards.push(await liveMillis());
    await delay(LIVE_EVERY_MILLIS / 3);
  }
  await store.close();
  database.close();
  await server.dispose();
  rmSync(folder, { recursive: true });
  console.log(
    JSON.stringify({
      name: 'catch-up',
      value: Number(at(0.99, during).toFixed(1)),
      unit: 'ms, p99 of a live reading to the server while a day is carried over',
      peer: 'the same when nothing waits',
      peer_value: Number(at(0.99, afterwards).toFixed(1)),
      ratio: at(0.99, during) / at(0.99, afterwards),
      n: during.length,
      note: `${PROBES * STEPS} readings in ${seconds.toFixed(0)} s; p50 ${at(0.5, during).toFixed(1)} and ${at(0.5, afterwards).toFixed(1)} ms; a smaller ratio is better`,
    }),
  );
};
