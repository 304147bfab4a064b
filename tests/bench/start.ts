// From the start of the process to the first answer on a data folder that holds a year of thirty probes, beside a start
// on an empty folder.

import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { openSqliteStore } from '../../collector/store/sqlite-store.ts';
import { openDatabase } from '../../lab/database/database.ts';
import { MILLIS_PER_DAY } from '../../wax/units.ts';
import { startLabProcess } from '../integration/lab-process.ts';
import { processorMillisOf } from './processor/processor-millis.ts';
import { fillSealedDays } from './store-data/sealed-year.ts';

const DAYS = 365;
const ROUNDS = 5;
const ARGS = ['--port', '0', '--broker', 'embedded:0', '--lab', 'lab/files/starter.yaml'];

interface Taken {
  readonly clockMillis: number;
  readonly processorMillis: number;
}

async function timeStart(data: string): Promise<Taken> {
  const begin = performance.now();
  const lab = await startLabProcess({ data, args: ARGS });
  const answer = await fetch(`${lab.address}/api/health`);
  if (!answer.ok) throw new Error(`the start answered ${answer.status}`);
  const clockMillis = performance.now() - begin;
  const processorMillis = processorMillisOf(lab.process.pid ?? 0);
  await lab.stop();
  return { clockMillis, processorMillis };
}
const median = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[values.length >> 1] ?? 0;

export const run = async (): Promise<void> => {
  const folder = mkdtempSync(join(tmpdir(), 'waxwarden-bench-'));
  const [year, empty] = [join(folder, 'year'), join(folder, 'empty')];
  await timeStart(year);
  const database = openDatabase(join(year, 'waxwarden.db'));
  await openSqliteStore(database).close();
  const start = (Math.floor(Date.now() / MILLIS_PER_DAY) - DAYS - 1) * MILLIS_PER_DAY;
  const readings = await fillSealedDays(database, start, DAYS);
  database.close();
  const taken = { year: [] as Taken[], empty: [] as Taken[] };
  for (let round = 0; round < ROUNDS; round += 1) {
    taken.empty.push(await timeStart(empty));
    taken.year.push(await timeStart(year));
  }
  rmSync(folder, { recursive: true });
  for (const { name, time, what } of [
    { name: 'start', time: 'clockMillis', what: 'by the clock' },
    { name: 'start-processor', time: 'processorMillis', what: 'of processor time' },
  ] as const) {
    const seconds = (all: readonly Taken[]) => all.map((each) => each[time] / 1000);
    const [ours, theirs] = [seconds(taken.year), seconds(taken.empty)];
    console.log(
      JSON.stringify({
        name,
        value: Number(median(ours).toFixed(2)),
        unit: `s ${what}`,
        peer: 'the same on an empty data folder',
        peer_value: Number(median(theirs).toFixed(2)),
        ratio: median(ours) / median(theirs),
        n: readings,
        note: `median of ${ROUNDS}, ${Math.min(...ours).toFixed(2)} to ${Math.max(...ours).toFixed(2)} s; a smaller ratio is better`,
      }),
    );
  }
};
