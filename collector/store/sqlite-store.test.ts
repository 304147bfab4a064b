import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { openDatabase } from '../../lab/database/database.ts';
import { reading, START, type StoreUnderTest, storeSpecification } from '../../tests/store-specification.ts';
import { epochMillis, MILLIS_PER_DAY, MILLIS_PER_HOUR } from '../../wax/units.ts';
import { openSqliteStore } from './sqlite-store.ts';

interface SqliteUnderTest extends StoreUnderTest {
  readonly folder: string;
}

/** `settledAt` is the instant at which readings are sealed before they are read; without, all stay fresh. */
const opening = (settledAt: number | null) => async (): Promise<SqliteUnderTest> => {
  const folder = mkdtempSync(join(tmpdir(), 'waxwarden-'));
  const database = openDatabase(join(folder, 'lab.db'));
  let store = openSqliteStore(database);
  let offset = 0;
  return {
    folder,
    database,
    store: () => store,
    commit: async (batch) => {
      await store.apply({ readings: [], ruleState: {}, alongside: [], ...batch, offset: offset + 1 });
      offset += 1;
    },
    settled: async () => {
      if (settledAt !== null) await store.tidy(epochMillis(settledAt), () => null);
    },
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
};
const open = opening(null);

storeSpecification('SQLite, all readings fresh', open, 60);
storeSpecification('SQLite, hours sealed but the last', opening(START + 2.2 * MILLIS_PER_HOUR), 40);
storeSpecification('SQLite, days sealed', opening(START + 2 * MILLIS_PER_DAY), 40);

describe('the mean of a bucket', () => {
  it('stays finite when a broken probe sends the largest number again and again', async () => {
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
