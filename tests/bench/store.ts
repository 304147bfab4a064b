// What the embedded store costs to take readings, against the same rows in a bare table: real files, with a forced
// write a batch.

import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { openSqliteStore } from '../../collector/store/sqlite-store.ts';
import { openDatabase } from '../../lab/database/database.ts';
import type { Reading } from '../../lab/reading.ts';
import { celsius, epochMillis } from '../../wax/units.ts';

const PROBES = 40;
const READINGS = 400_000;
const BATCH = 2000;
const ROUNDS = 3;
const STEP_MILLIS = 10_000;
const START = Date.UTC(2026, 0, 1);

const readingAt = (probe: string, at: number, index: number): Reading => ({
  probe,
  at: epochMillis(at),
  celsius: celsius(80 + ((index * 7919) % 160) / 16),
  quality: 'good',
});

function* batches(probes: number, count: number): Generator<readonly Reading[]> {
  for (let from = 0; from < count; from += BATCH)
    yield Array.from({ length: Math.min(BATCH, count - from) }, (_, offset) => {
      const index = from + offset;
      return readingAt(`probe-${index % probes}`, START + Math.floor(index / probes) * STEP_MILLIS, index);
    });
}

async function seconds(work: () => Promise<void> | void): Promise<number> {
  const begin = process.hrtime.bigint();
  await work();
  return Number(process.hrtime.bigint() - begin) / 1e9;
}

const print = (figure: Record<string, string | number | null>): void => console.log(JSON.stringify(figure));

export const run = async (): Promise<void> => {
  const folder = mkdtempSync(join(tmpdir(), 'waxwarden-bench-'));
  const bareRound = async (round: number): Promise<number> => {
    const bare = openDatabase(join(folder, `bare-${round}.db`));
    bare.migrate('bench', [
      'CREATE TABLE bare (series INTEGER, at INTEGER, celsius REAL, PRIMARY KEY (series, at)) WITHOUT ROWID',
    ]);
    const insert = bare.writer.prepare('INSERT OR IGNORE INTO bare VALUES (?, ?, ?)');
    const numberOf = new Map(Array.from({ length: PROBES }, (_, index) => [`probe-${index}`, index]));
    const taken = await seconds(() => {
      for (const readings of batches(PROBES, READINGS))
        bare.transaction(() => {
          for (const { probe, at, celsius: value } of readings)
            insert.run(numberOf.get(probe) ?? -1, at, value);
        });
    });
    bare.close();
    return taken;
  };
  const storeRound = async (round: number): Promise<number> => {
    const database = openDatabase(join(folder, `lab-${round}.db`));
    const store = openSqliteStore(database);
    let offset = 0;
    const taken = await seconds(async () => {
      for (const readings of batches(PROBES, READINGS))
        await store.apply({ readings, ruleState: {}, alongside: [], offset: ++offset });
    });
    await store.close();
    database.close();
    return taken;
  };
  let [bareBest, storeBest] = [Infinity, Infinity];
  // In turn, so that a busy moment of the machine meets both.
  for (let round = 0; round < ROUNDS; round += 1) {
    bareBest = Math.min(bareBest, await bareRound(round));
    storeBest = Math.min(storeBest, await storeRound(round));
  }
  print({
    name: 'store-ingest',
    value: Math.round(READINGS / storeBest),
    unit: 'readings/s',
    peer: 'the same rows in a bare table, same batches',
    peer_value: Math.round(READINGS / bareBest),
    ratio: bareBest / storeBest,
    n: READINGS,
    note: `${PROBES} probes in turn, batches of ${BATCH}, each forced to disk; best of ${ROUNDS} rounds`,
  });
  rmSync(folder, { recursive: true });
};
