// A year of one probe at five seconds as at most a thousand buckets of least, greatest and mean, asked of a store that
// holds thirty such probes, beside InfluxDB that holds the one. Cold is the first question after the store was opened
// anew, or the server started again; the system's cache of files is warm for both. Times are given by the clock and of
// processors: ours is all of this process, InfluxDB's is that of its server alone.

import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { openInfluxStore } from '../../collector/store/influx-store.ts';
import { openSqliteStore } from '../../collector/store/sqlite-store.ts';
import type { Store } from '../../collector/store/store.ts';
import { openDatabase } from '../../lab/database/database.ts';
import { epochMillis, MILLIS_PER_DAY } from '../../wax/units.ts';
import { startInflux } from '../integration/influx.ts';
import { labWeek, STEP_MILLIS } from './store-data/lab-week.ts';
import { ownProcessorMillis, processorMillisOf } from './processor/processor-millis.ts';
import { fillSealedDays } from './store-data/sealed-year.ts';

const DAYS = 365;
const ROUNDS = 5;
const START = (Math.floor(Date.now() / MILLIS_PER_DAY) - DAYS - 1) * MILLIS_PER_DAY;
const STEPS = (DAYS * MILLIS_PER_DAY) / STEP_MILLIS;
const LINES_A_REQUEST = 20_000;
const query = { from: epochMillis(START), to: epochMillis(START + DAYS * MILLIS_PER_DAY), points: 1000 };

interface Taken {
  readonly clockMillis: number;
  readonly processorMillis: number;
}

async function timeChart(store: Store, probe: string, processorMillis: () => number): Promise<Taken> {
  const [begin, workedBefore] = [performance.now(), processorMillis()];
  const buckets = await store.buckets({ ...query, probe });
  if (buckets.reduce((sum, { count }) => sum + count, 0) !== STEPS) throw new Error('readings are missing');
  return { clockMillis: performance.now() - begin, processorMillis: processorMillis() - workedBefore };
}

const median = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[values.length >> 1] ?? 0;

export const run = async (): Promise<void> => {
  const folder = mkdtempSync(join(tmpdir(), 'waxwarden-bench-'));
  const file = join(folder, 'year.db');
  const filling = openDatabase(file);
  await openSqliteStore(filling).close();
  await fillSealedDays(filling, START, DAYS);
  filling.close();
  const ours = { cold: [] as Taken[], warm: [] as Taken[] };
  for (let round = 0; round < ROUNDS; round += 1) {
    const database = openDatabase(file);
    const store = openSqliteStore(database);
    ours.cold.push(await timeChart(store, `probe-${2 * round}`, ownProcessorMillis));
    for (let again = 0; again < 3; again += 1)
      ours.warm.push(await timeChart(store, `probe-${2 * round}`, ownProcessorMillis));
    await store.close();
    database.close();
  }

  const server = await startInflux({ compactsAfter: '2s' });
  const [probe] = labWeek(START, 'gateway');
  if (probe === undefined) throw new Error('there is no probe');
  await server.ask('CREATE DATABASE bench');
  for (let from = 0; from < STEPS; from += LINES_A_REQUEST) {
    const lines: string[] = [];
    for (let step = from; step < Math.min(STEPS, from + LINES_A_REQUEST); step += 1)
      lines.push(`wax_temperature,site=bench,probe=probe-0 celsius=${probe.celsius(step)} ${probe.at(step)}`);
    const answer = await fetch(`${server.url}/write?db=bench&precision=ms`, {
      method: 'POST',
      body: lines.join('\n'),
    });
    if (!answer.ok) throw new Error(`InfluxDB refused a write: ${await answer.text()}`);
  }
  const beside = openDatabase(join(folder, 'beside.db'));
  const serverMillis = () => processorMillisOf(server.processId());
  const theirs = { cold: [] as Taken[], warm: [] as Taken[] };
  const store = openInfluxStore(beside, { url: `${server.url}/bench`, site: 'bench' });
  for (let round = 0; round < ROUNDS; round += 1) {
    await server.stop();
    await server.start();
    theirs.cold.push(await timeChart(store, 'probe-0', serverMillis));
    for (let again = 0; again < 2; again += 1)
      theirs.warm.push(await timeChart(store, 'probe-0', serverMillis));
  }
  await store.close();
  beside.close();
  await server.dispose();
  rmSync(folder, { recursive: true });
  for (const kind of ['warm', 'cold'] as const)
    for (const { name, time, what } of [
      { name: `chart-${kind}`, time: 'clockMillis', what: 'by the clock' },
      { name: `chart-${kind}-processor`, time: 'processorMillis', what: 'of processor time' },
    ] as const) {
      const [own, peer] = [ours[kind], theirs[kind]].map((all) => all.map((each) => each[time]));
      if (own === undefined || peer === undefined) continue;
      console.log(
        JSON.stringify({
          name,
          value: Number(median(own).toFixed(1)),
          unit: `ms ${what}`,
          peer: 'InfluxDB 1.6, the same buckets',
          peer_value: Number(median(peer).toFixed(1)),
          ratio: median(own) / median(peer),
          n: STEPS,
          note: `median of ${own.length}, ${Math.min(...own).toFixed(1)} to ${Math.max(...own).toFixed(1)} ms; a smaller ratio is better`,
        }),
      );
    }
};
