// What every store must do, as one specification: the embedded store runs it beside its file, the one over
// InfluxDB on a real server.

import fc from 'fast-check';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { bucketPlan } from '../collector/store/bucket-width.ts';
import type { Applied, SeriesBucket, Store } from '../collector/store/store.ts';
import type { LabDatabase } from '../lab/database/database.ts';
import type { Quality, Reading } from '../lab/reading.ts';
import { celsius, epochMillis, MILLIS_PER_HOUR, MILLIS_PER_MINUTE } from '../wax/units.ts';

export interface StoreUnderTest {
  readonly database: LabDatabase;
  readonly store: () => Store;
  /** Puts the batch into the journal and applies it; the offset grows by one a batch. */
  readonly commit: (batch: Partial<Omit<Applied, 'offset'>>) => Promise<void>;
  /** Resolves when everything committed can be read. */
  readonly settled: () => Promise<void>;
  /** Closes the store and opens it again on the same data. */
  readonly reopen: () => Promise<void>;
  readonly close: () => Promise<void>;
}

/** A Monday at 06:00 UTC. */
export const START = Date.UTC(2026, 2, 2, 6);

export const reading = (probe: string, at: number, value: number, quality: Quality = 'good'): Reading => ({
  probe,
  at: epochMillis(at),
  celsius: celsius(value),
  quality,
});

/** What a bucket query must answer, computed from the rows alone. */
function bucketsOf(rows: readonly Reading[], from: number, to: number, points: number): SeriesBucket[] {
  const width = bucketPlan({ from, to, points })?.width ?? 1;
  const groups = new Map<number, Reading[]>();
  for (const row of rows) {
    if (row.at < from || row.at >= to) continue;
    const at = Math.max(from, Math.floor(row.at / width) * width);
    groups.set(at, [...(groups.get(at) ?? []), row]);
  }
  return [...groups]
    .sort(([a], [b]) => a - b)
    .map(([at, inside]) => {
      const values = inside.map((row) => row.celsius);
      return {
        at: epochMillis(at),
        min: Math.min(...values),
        max: Math.max(...values),
        mean: values.reduce((sum, value) => sum + value, 0) / values.length,
        count: values.length,
        doubtful: inside.filter((row) => row.quality !== 'good').length,
      };
    });
}

const roundMeans = (buckets: readonly SeriesBucket[]): SeriesBucket[] =>
  buckets.map((bucket) => ({ ...bucket, mean: Math.round(bucket.mean * 1e6) / 1e6 }));

export function storeSpecification(name: string, open: () => Promise<StoreUnderTest>, runs: number): void {
  describe(`the store on ${name}`, () => {
    let test: StoreUnderTest;
    beforeEach(async () => {
      test = await open();
    });
    afterEach(async () => {
      await test.close();
    });
    const everything = (probe: string) =>
      test.store().raw({ probe, from: epochMillis(0), to: epochMillis(START * 2), limit: 1_000_000 });

    it('gives back what was put in, oldest first, with its quality', async () => {
      const rows = [
        reading('dip-wax', START + 1000, 88.25, 'suspect'),
        reading('dip-wax', START, 88, 'good'),
        reading('dip-wax', START + 2000, -12.0625, 'uncertain-time'),
      ];
      await test.commit({ readings: rows });
      await test.settled();
      expect(await everything('dip-wax')).toEqual([rows[1], rows[0], rows[2]]);
    });

    it('takes a probe id with every character that an id may have', async () => {
      const probe = `A.z_0-${'x'.repeat(58)}`;
      await test.commit({ readings: [reading(probe, START, 21)] });
      await test.settled();
      expect(await everything(probe)).toHaveLength(1);
    });

    it('answers nothing for a probe that it never saw, and for an empty span', async () => {
      const at = epochMillis(START);
      expect(await test.store().buckets({ probe: 'none', from: at, to: at, points: 10 })).toEqual([]);
      expect(await everything('none')).toEqual([]);
    });

    it('is not changed by a redelivered reading', async () => {
      const rows = [reading('dip-wax', START, 88), reading('dip-wax', START + 10_000, 89)];
      const query = {
        probe: 'dip-wax',
        from: epochMillis(START),
        to: epochMillis(START + 60_000),
        points: 1,
      };
      await test.commit({ readings: rows });
      await test.settled();
      const before = await test.store().buckets(query);
      await test.commit({ readings: [...rows, ...rows] });
      await test.settled();
      expect(await test.store().buckets(query)).toEqual(before);
      expect(await everything('dip-wax')).toEqual(rows);
    });

    it('keeps the first value of an instant, and answers which one it is at once and after a restart', async () => {
      const rows = [reading('dip-wax', START, 88), reading('dip-wax', START + 10_000, 89)];
      await test.commit({ readings: rows });
      await test.commit({
        readings: [reading('dip-wax', START, 150), reading('dip-wax', START + 20_000, 90)],
      });
      const stored = () =>
        [0, 1, 10_000, 20_000].map((after) => test.store().celsiusAt('dip-wax', START + after));
      expect(stored()).toEqual([88, null, 89, 90]);
      expect(test.store().celsiusAt('none', START)).toBeNull();
      await test.settled();
      expect((await everything('dip-wax')).map((row) => row.celsius)).toEqual([88, 89, 90]);
      await test.reopen();
      expect(stored()).toEqual([88, null, 89, 90]);
    });

    it('puts a late reading in its place', async () => {
      await test.commit({ readings: [reading('dip-wax', START + 60_000, 90)] });
      await test.commit({ readings: [reading('dip-wax', START, 85)] });
      await test.settled();
      expect((await everything('dip-wax')).map((row) => row.celsius)).toEqual([85, 90]);
    });

    it('never loses an extreme by downsampling', async () => {
      const rows = Array.from({ length: 4000 }, (_, index) =>
        reading('dip-wax', START + index * 10_000, index === 1234 ? 131.5 : index === 3210 ? 12.5 : 90),
      );
      await test.commit({ readings: rows });
      await test.settled();
      for (const points of [1, 7, 60, 1000]) {
        const buckets = await test
          .store()
          .buckets({ probe: 'dip-wax', from: epochMillis(START), to: epochMillis(START + 4e7), points });
        expect(buckets.length).toBeLessThanOrEqual(points);
        expect(Math.max(...buckets.map((bucket) => bucket.max))).toBe(131.5);
        expect(Math.min(...buckets.map((bucket) => bucket.min))).toBe(12.5);
        expect(buckets.reduce((sum, bucket) => sum + bucket.count, 0)).toBe(4000);
      }
    });

    it('leaves a gap a gap: a bucket without readings is absent', async () => {
      await test.commit({
        readings: [reading('dip-wax', START, 90), reading('dip-wax', START + 3_600_000, 91)],
      });
      await test.settled();
      const buckets = await test
        .store()
        .buckets({
          probe: 'dip-wax',
          from: epochMillis(START),
          to: epochMillis(START + 2 * MILLIS_PER_HOUR),
          points: 120,
        });
      expect(buckets.map((bucket) => bucket.at - START)).toEqual([0, MILLIS_PER_HOUR]);
    });

    it('answers exactly from the first instant asked for, and up to but without the last', async () => {
      const rows = [0, 1, 59_999, 60_000, 3_599_999, 3_600_000, 7_200_000].map((after) =>
        reading('dip-wax', START + after, 80 + after / 1e6),
      );
      await test.commit({ readings: rows });
      await test.settled();
      const [from, to] = [START + 1, START + 7_200_000];
      const query = { probe: 'dip-wax', from: epochMillis(from), to: epochMillis(to), points: 3 };
      expect(roundMeans(await test.store().buckets(query))).toEqual(roundMeans(bucketsOf(rows, from, to, 3)));
      const inside = await test.store().raw({ ...query, limit: 100 });
      expect(inside.map((row) => row.at - START)).toEqual([1, 59_999, 60_000, 3_599_999, 3_600_000]);
    });

    it('answers a span from the beginning to the end of time, and points that make no sense', async () => {
      await test.commit({ readings: [reading('dip-wax', START, 90), reading('dip-wax', START + 1, 92)] });
      await test.settled();
      const from = epochMillis(-8.64e15);
      const to = epochMillis(8.64e15);
      for (const points of [1, 0, -5, Number.NaN]) {
        const [all, ...more] = await test.store().buckets({ probe: 'dip-wax', from, to, points });
        expect([all?.min, all?.max, all?.count, more]).toEqual([90, 92, 2, []]);
      }
      expect(await test.store().raw({ probe: 'dip-wax', from, to, limit: 10 })).toHaveLength(2);
    });

    it('gives at most as many rows as asked for', async () => {
      await test.commit({ readings: [0, 1, 2, 3].map((index) => reading('dip-wax', START + index, 90)) });
      await test.settled();
      const query = { probe: 'dip-wax', from: epochMillis(START), to: epochMillis(START + 60_000), limit: 2 };
      expect((await test.store().raw(query)).map((row) => row.at - START)).toEqual([0, 1]);
    });

    it('answers the same whatever the order, the batches and the doublings in which readings came', async () => {
      let probeNumber = 0;
      const row = fc.record({
        after: fc.integer({ min: 0, max: 3 * MILLIS_PER_HOUR }),
        value: fc.integer({ min: -400, max: 4000 }).map((tenths) => tenths / 10),
        quality: fc.constantFrom<Quality>('good', 'suspect', 'uncertain-time'),
        again: fc.boolean(),
      });
      await fc.assert(
        fc.asyncProperty(
          fc.uniqueArray(row, { minLength: 1, maxLength: 60, selector: ({ after }) => after }),
          fc.integer({ min: 1, max: 5 }),
          fc.integer({ min: 1, max: 200 }),
          fc.integer({ min: 0, max: MILLIS_PER_HOUR }),
          async (rows, batches, points, skipped) => {
            probeNumber += 1;
            const probe = `law-${probeNumber}`;
            const readings = rows.map(({ after, value, quality }) =>
              reading(probe, START + after, value, quality),
            );
            const doubled = readings.flatMap((each, index) => (rows[index]?.again ? [each, each] : [each]));
            for (let batch = 0; batch < batches; batch += 1)
              await test.commit({ readings: doubled.filter((_, index) => index % batches === batch) });
            await test.settled();
            const [from, to] = [START + skipped, START + 3 * MILLIS_PER_HOUR - MILLIS_PER_MINUTE + 1];
            const answer = await test
              .store()
              .buckets({ probe, from: epochMillis(from), to: epochMillis(to), points });
            expect(roundMeans(answer)).toEqual(roundMeans(bucketsOf(readings, from, to, points)));
          },
        ),
        { numRuns: runs },
      );
    });

    it('keeps rule state, what rides alongside and the offset, over a restart', async () => {
      test.database.writer.exec('CREATE TABLE beside (text TEXT)');
      await test.commit({
        ruleState: { site: { open: 1 }, 'station:dip-pot': { dose: 2.5 }, gone: [1] },
        alongside: [(connection) => connection.exec("INSERT INTO beside VALUES ('kept')")],
      });
      await test.commit({ ruleState: { site: { open: 2 }, gone: undefined } });
      await test.settled();
      await test.reopen();
      expect(test.store().ruleState()).toEqual({ site: { open: 2 }, 'station:dip-pot': { dose: 2.5 } });
      expect(test.database.writer.prepare('SELECT text FROM beside').pluck().all()).toEqual(['kept']);
      expect(test.store().offset()).toBe(2);
      expect(test.store().keepFrom()).toBe(2);
    });

    it('takes nothing of a batch of which a part fails', async () => {
      await test.commit({ readings: [reading('dip-wax', START, 88)], ruleState: { site: 1 } });
      await test.settled();
      const failing = test.commit({
        readings: [reading('new-probe', START, 50)],
        ruleState: { site: 2 },
        alongside: [
          () => {
            throw new Error('no');
          },
        ],
      });
      await expect(failing).rejects.toThrow('no');
      expect(test.store().ruleState()).toEqual({ site: 1 });
      expect(test.store().offset()).toBe(1);
      expect((await test.store().health()).ok).toBe(false);
      // The same entries come again from the journal, now without the fault.
      await test.commit({ readings: [reading('new-probe', START, 50)], ruleState: { site: 2 } });
      await test.settled();
      expect([await everything('dip-wax'), await everything('new-probe')].map((rows) => rows.length)).toEqual(
        [1, 1],
      );
      expect((await test.store().health()).ok).toBe(true);
    });

    it('answers readers while a long write is under way, with the state before it or after it', async () => {
      const [before, added] = [reading('dip-wax', START, 88), reading('dip-wax', START + 1000, 89)];
      await test.commit({ readings: [before] });
      await test.settled();
      let during: Promise<readonly Reading[]> | undefined;
      await test.commit({
        readings: [added],
        alongside: [
          () => {
            during = everything('dip-wax');
          },
        ],
      });
      expect([[before], [before, added]]).toContainEqual(await during);
      await test.settled();
      expect(await everything('dip-wax')).toHaveLength(2);
    });
  });
}
