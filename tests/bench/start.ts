// From the start of the process to the first answer on a data folder that holds a year of thirty probes, beside a start
// on an empty folder.

import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { openSqliteStore } from '../../collector/store/sqlite-store.ts';
import { openDatabase } from '../../lab/database.ts';
import { MILLIS_PER_DAY } from '../../wax/units.ts';
import { startLabProcess } from '../integration/lab-process.ts';
import { fillSealedDays } from './store-data/sealed-year.ts';

const DAYS = 365;
const ROUNDS = 5;
const ARGS = ['--port', '0', '--broker', 'embedded:0', '--lab', 'lab/files/starter.yaml'];

async function startMillis(data: string): Promise<number> {
  const begin = performance.now();
  const lab = await startLabProcess({ data, args: ARGS });
  const answer = await fetch(`${lab.address}/api/health`);
  if (!answer.ok) throw new Error(`the start answered ${answer.status}`);
  const taken = performance.now() - begin;
  await lab.stop();
  return taken;
}
const median = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[values.length >> 1] ?? 0;

export const run = async (): Promise<void> => {
  const folder = mkdtempSync(join(tmpdir(), 'waxwarden-bench-'));
  const [year, empty] = [join(folder, 'year'), join(folder, 'empty')];
  await startMillis(year);
  const database = openDatabase(join(year, 'waxwarden.db'));
  await openSqliteStore(database).close();
  const start = (Math.floor(Date.now() / MILLIS_PER_DAY) - DAYS - 1) * MILLIS_PER_DAY;
  const readings = await fillSealedDays(database, start, DAYS);
  database.close();
  const taken = { year: [] as number[], empty: [] as number[] };
  for (let round = 0; round < ROUNDS; round += 1) {
    taken.empty.push(await startMillis(empty));
    taken.year.push(await startMillis(year));
  }
  rmSync(folder, { recursive: true });
  console.log(
    JSON.stringify({
      name: 'start',
      value: Number((median(taken.year) / 1000).toFixed(2)),
      unit: 's',
      peer: 'the same on an empty data folder',
      peer_value: Number((median(taken.empty) / 1000).toFixed(2)),
      ratio: median(taken.year) / median(taken.empty),
      n: readings,
      note: `median of ${ROUNDS}, ${(Math.min(...taken.year) / 1000).toFixed(2)} to ${(Math.max(...taken.year) / 1000).toFixed(2)} s; a smaller ratio is better`,
    }),
  );
};
