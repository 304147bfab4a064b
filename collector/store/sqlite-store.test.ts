import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { openDatabase } from '../../lab/database.ts';
import { reading, START, type StoreUnderTest, storeSpecification } from '../../tests/store-specification.ts';
import { epochMillis } from '../../wax/units.ts';
import { openSqliteStore } from './sqlite-store.ts';

async function open(): Promise<StoreUnderTest> {
  const folder = mkdtempSync(join(tmpdir(), 'waxwarden-'));
  const database = openDatabase(join(folder, 'lab.db'));
  let store = openSqliteStore(database);
  let offset = 0;
  return {
    database,
    store: () => store,
    commit: async (batch) => {
      await store.apply({ readings: [], ruleState: {}, alongside: [], ...batch, offset: offset + 1 });
      offset += 1;
    },
    settled: async () => {},
    reopen: async () => {
      await store.close();
      store = openSqliteStore(database);
    },
    close: async () => {
      await store.close();
      database.close();
      rmSync(folder, { recursive: true });
    },
  };
}

storeSpecification('SQLite', open, 60);

describe('the rollups of the embedded store', () => {
  it('equal what the rows say, after late, doubled and unordered readings of two probes', async () => {
    const test = await open();
    const rows = Array.from({ length: 3000 }, (_, index) =>
      reading(index % 2 ? 'a' : 'b', START + ((index * 7919) % 3000) * 7000, (index * 31) % 97),
    );
    for (let from = 0; from < rows.length; from += 400)
      await test.commit({ readings: [...rows.slice(from, from + 400), ...rows.slice(0, 50)] });
    const differing = (table: string, step: number) =>
      test.database.writer
        .prepare(
          `SELECT count(*) FROM (SELECT series, at - at % ${step} AS start, min(celsius) AS low, max(celsius) AS high,
             sum(celsius) AS total, count(*) AS count FROM reading GROUP BY 1, 2) AS truth
           FULL JOIN ${table} AS kept ON kept.series = truth.series AND kept.at = truth.start
           WHERE kept.low IS NOT truth.low OR kept.high IS NOT truth.high OR kept.count IS NOT truth.count
             OR abs(kept.total - truth.total) > 1e-6`,
        )
        .pluck()
        .get();
    expect(test.database.writer.prepare('SELECT count(*) FROM reading').pluck().get()).toBe(3000);
    expect(differing('reading_minute', 60_000)).toBe(0);
    expect(differing('reading_hour', 3_600_000)).toBe(0);
    await test.close();
  });

  it('keep a mean finite when a broken probe says the largest number again and again', async () => {
    const test = await open();
    await test.commit({
      readings: [0, 1, 2].map((index) => reading('a', START + index, 1.7e308, 'suspect')),
    });
    const query = { probe: 'a', from: epochMillis(START), to: epochMillis(START + 3_600_000), points: 1 };
    const [bucket] = await test.store().buckets(query);
    expect([bucket?.max, Number.isFinite(bucket?.mean), bucket?.doubtful]).toEqual([1.7e308, true, 3]);
    await test.close();
  });
});

describe('the journal that the embedded store still needs', () => {
  it('reaches back to the last batch that was forced to disk, and a forced batch settles those before it', async () => {
    const test = await open();
    await test.commit({});
    await test.commit({ readings: [reading('a', START, 60)], isRecomputable: true });
    expect([test.store().offset(), test.store().keepFrom()]).toEqual([2, 1]);
    await test.commit({});
    expect([test.store().offset(), test.store().keepFrom()]).toEqual([3, 3]);
    await test.close();
  });

  it('reaches no further back after a restart, which forces what was committed to disk', async () => {
    const test = await open();
    await test.commit({ isRecomputable: true });
    expect(test.store().keepFrom()).toBe(0);
    await test.reopen();
    expect(test.store().keepFrom()).toBe(1);
    await test.close();
  });
});
