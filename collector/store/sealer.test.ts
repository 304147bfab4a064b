import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type LabDatabase, openDatabase } from '../../lab/database/database.ts';
import type { Reading } from '../../lab/reading.ts';
import { reading, START } from '../../tests/store-specification.ts';
import { epochMillis, MILLIS_PER_DAY, MILLIS_PER_HOUR } from '../../wax/units.ts';
import { openSealer } from './sealer.ts';
import { openSqliteStore } from './sqlite-store.ts';
import type { Store } from './store.ts';

let folder: string;
let database: LabDatabase;
let store: Store;
let offset = 0;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'waxwarden-'));
  database = openDatabase(join(folder, 'lab.db'));
  store = openSqliteStore(database);
});
afterEach(async () => {
  await store.close();
  database.close();
  rmSync(folder, { recursive: true });
});

const commit = (readings: readonly Reading[]): Promise<void> =>
  store.apply({ readings, ruleState: {}, alongside: [], offset: ++offset });
const all = (probe: string): Promise<readonly Reading[]> =>
  store.raw({ probe, from: epochMillis(0), to: epochMillis(START * 2), limit: 1_000_000 });
const count = (sql: string): unknown => database.writer.prepare(sql).pluck().get();
const fresh = (): unknown => count('SELECT count(*) FROM reading');
const packs = (): unknown => count('SELECT count(*) FROM reading_pack');

/** Six hours of probes in the order in which they came, ten minutes apart, unlike each other. */
const hours = (probes: readonly string[], length = 6): readonly Reading[] =>
  Array.from({ length: length * 6 }, (_, index) =>
    probes.map((probe, number) =>
      reading(probe, START + index * 600_000 + 37, 20 + ((index * 7 + number * 3) % 50) / 16),
    ),
  ).flat();
/** The day of `START` began six hours before it. */
const dayOver = START + 19.5 * MILLIS_PER_HOUR;

describe('sealing', () => {
  it('moves hours that are over into packs and leaves the hour that runs', async () => {
    await commit(hours(['pot', 'shelf']));
    await store.tidy(epochMillis(START + 5.5 * MILLIS_PER_HOUR), () => null);
    expect([packs(), fresh()]).toEqual([5, 12]);
    expect(await all('pot')).toEqual(hours(['pot']));
  });

  it('waits for what a gateway sends again', async () => {
    await commit(hours(['pot'], 1));
    await store.tidy(epochMillis(START + MILLIS_PER_HOUR + 60_000), () => null);
    expect([packs(), fresh()]).toEqual([0, 6]);
  });

  it('makes one pack of the hours of a day that is over', async () => {
    await commit(hours(['pot', 'shelf']));
    for (let hour = 1; hour <= 7; hour += 1)
      await store.tidy(epochMillis(START + hour * MILLIS_PER_HOUR + 600_000), () => null);
    expect(packs()).toBe(6);
    await store.tidy(epochMillis(dayOver), () => null);
    expect([packs(), fresh()]).toEqual([1, 0]);
    expect(await all('shelf')).toEqual(hours(['pot', 'shelf']).filter(({ probe }) => probe === 'shelf'));
  });

  it('takes in late readings of a sealed day, and a reading that comes again does not change it', async () => {
    const rows = hours(['pot']);
    await commit(rows.filter((_, index) => index % 3 !== 0));
    await store.tidy(epochMillis(dayOver), () => null);
    await commit(rows.filter((_, index) => index % 3 === 0));
    await commit([reading('pot', rows[1]?.at ?? 0, 99)]);
    expect(await all('pot')).toEqual(rows);
    await store.tidy(epochMillis(dayOver), () => null);
    expect(await all('pot')).toEqual(rows);
    expect([packs(), fresh()]).toEqual([1, 0]);
  });

  it('keeps more probes than one pack holds apart', async () => {
    const probes = Array.from({ length: 70 }, (_, number) => `probe-${number}`);
    const rows = hours(probes, 1);
    await commit(rows);
    await store.tidy(epochMillis(dayOver), () => null);
    expect([packs(), fresh()]).toEqual([3, 0]);
    for (const probe of ['probe-0', 'probe-31', 'probe-32', 'probe-69'])
      expect(await all(probe)).toEqual(rows.filter((row) => row.probe === probe));
  });

  it('answers the same after a kill at any step, and again when it is done', async () => {
    const rows = hours(['pot', 'shelf', 'bath'], 3);
    const late = rows.filter((_, index) => index % 5 === 0);
    const early = rows.filter((_, index) => index % 5 !== 0);
    const query = {
      probe: 'bath',
      from: epochMillis(START),
      to: epochMillis(START + MILLIS_PER_DAY),
      points: 3,
    };
    await commit(early);
    await store.tidy(epochMillis(START + 2.5 * MILLIS_PER_HOUR), () => null);
    await commit(late);
    const before = await store.buckets(query);
    const bath = rows.filter(({ probe }) => probe === 'bath');
    let steps = 0;
    for (let isDone = false; !isDone; steps += 1) {
      let left = steps;
      const dying: LabDatabase = {
        ...database,
        transaction: (work) => {
          if (left === 0) throw new Error('killed');
          left -= 1;
          return database.transaction(work);
        },
      };
      isDone = await openSealer(dying)
        .seal(dayOver)
        .then(
          () => true,
          () => false,
        );
      expect(await all('bath')).toEqual(bath);
      expect(await store.buckets(query)).toEqual(before);
    }
    expect(steps).toBeGreaterThan(4);
    expect([packs(), fresh()]).toEqual([1, 0]);
  });

  it('does not change any answer, whatever came when', async () => {
    let number = 0;
    const row = fc.record({
      after: fc.integer({ min: 0, max: 50 * MILLIS_PER_HOUR }),
      value: fc.integer({ min: 0, max: 1600 }),
      batch: fc.integer({ min: 0, max: 3 }),
    });
    await fc.assert(
      fc.asyncProperty(
        fc.uniqueArray(row, { minLength: 1, maxLength: 60, selector: ({ after }) => after }),
        fc.array(fc.integer({ min: 0, max: 60 }), { minLength: 4, maxLength: 4 }),
        fc.integer({ min: 1, max: 90 }),
        async (drawn, sealedAt, points) => {
          number += 1;
          const [sealedProbe, freshProbe] = [`sealed-${number}`, `fresh-${number}`];
          for (const [batch, hour] of sealedAt.entries()) {
            const came = drawn.filter((each) => each.batch === batch);
            await commit(came.map(({ after, value }) => reading(sealedProbe, START + after, value / 16)));
            await store.tidy(epochMillis(START + hour * MILLIS_PER_HOUR), () => null);
          }
          await commit(drawn.map(({ after, value }) => reading(freshProbe, START + after, value / 16)));
          const ask = { from: epochMillis(START + 5), to: epochMillis(START + 49.7 * MILLIS_PER_HOUR) };
          const [first, second] = await Promise.all(
            [sealedProbe, freshProbe].map((probe) => store.buckets({ ...ask, probe, points })),
          );
          expect(first).toEqual(second);
        },
      ),
      { numRuns: 25 },
    );
  });
});

describe('a folder that the first version wrote', () => {
  it('answers the same from the start, and is sealed without its old rollups', async () => {
    const rows = hours(['pot', 'shelf'], 30);
    await commit(rows);
    database.writer.exec(
      `INSERT INTO reading_minute SELECT series, at - at % 60000, min(celsius), max(celsius), sum(celsius), count(*), 0
         FROM reading GROUP BY 1, 2;
       INSERT INTO reading_hour SELECT series, at - at % 3600000, min(celsius), max(celsius), sum(celsius), count(*), 0
         FROM reading GROUP BY 1, 2`,
    );
    const pot = rows.filter(({ probe }) => probe === 'pot');
    expect(await all('pot')).toEqual(pot);
    await store.tidy(epochMillis(START + 3 * MILLIS_PER_DAY), () => null);
    expect(await all('pot')).toEqual(pot);
    expect([packs(), fresh()]).toEqual([2, 0]);
    expect(count("SELECT count(*) FROM sqlite_master WHERE name IN ('reading_minute', 'reading_hour')")).toBe(
      0,
    );
  });
});
