// Thirty simulated days of one lab through qualification, rules and the embedded store with its sealing, in this process:
// what is resident after each day.

import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { waxWatch } from '../../../alerts/watch/wax-watch.ts';
import { qualify } from '../../../collector/qualify/qualify.ts';
import { openSqliteStore } from '../../../collector/store/sqlite-store.ts';
import { openDatabase } from '../../../lab/database/database.ts';
import { collectChangedState, emptyBatch, judgeMore } from '../../../pipeline/batch.ts';
import { dayOfWork, WORKING_LAB } from '../year/days-of-work.ts';

const DAYS = 30;
const ENTRIES_A_BATCH = 120;

/** Megabytes resident after each day. */
export async function thirtyDays(): Promise<readonly number[]> {
  const folder = mkdtempSync(join(tmpdir(), 'waxwarden-bench-'));
  const database = openDatabase(join(folder, 'waxwarden.db'));
  const store = openSqliteStore(database);
  const megabytes: number[] = [];
  let batch = emptyBatch(waxWatch.initial(), {}, 0);
  for (let day = 0; day < DAYS; day += 1) {
    // A reading in six seconds of each probe.
    const entries = dayOfWork(day, 0.1);
    for (let from = 0; from < entries.length; from += ENTRIES_A_BATCH) {
      const part = entries.slice(from, from + ENTRIES_A_BATCH);
      const tail = { entries: part, offsets: part.map((_, index) => batch.offset + index + 1), damaged: [] };
      const judged = judgeMore(batch, { ...tail, next: batch.offset + part.length }, WORKING_LAB, {
        watch: waxWatch,
        qualify,
        stored: store.celsiusAt,
      });
      await store.apply({
        readings: judged.readings,
        ruleState: collectChangedState(judged),
        alongside: [],
        isRecomputable: true,
        offset: judged.offset,
      });
      batch = emptyBatch(judged.watchState, judged.qualifyState, judged.offset);
    }
    const newest = entries.at(-1);
    if (newest !== undefined) await store.tidy(newest.receivedAt, () => null);
    megabytes.push(process.memoryUsage().rss / 1024 ** 2);
  }
  await store.close();
  database.close();
  rmSync(folder, { recursive: true, force: true });
  return megabytes;
}
