import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { readDirectory } from '../../collector/store/sealed/pack.ts';
import { openSqliteStore } from '../../collector/store/sqlite-store.ts';
import type { Store } from '../../collector/store/store.ts';
import { type LabDatabase, openDatabase } from '../../lab/database/database.ts';
import type { Reading } from '../../lab/reading.ts';
import { reading, START } from '../../tests/store-specification.ts';
import { epochMillis, MILLIS_PER_DAY, MILLIS_PER_HOUR } from '../../wax/units.ts';
import { runVerb } from '../command-line/run-verb.ts';

let data: string;
let file: string;
let printed: string[];
beforeEach(() => {
  data = mkdtempSync(join(tmpdir(), 'waxwarden-'));
  file = join(data, 'waxwarden.db');
  printed = [];
  vi.spyOn(console, 'log').mockImplementation((text) => printed.push(String(text)) > 0);
});
afterEach(() => {
  vi.restoreAllMocks();
  rmSync(data, { recursive: true });
});

const PROBES = ['pot', 'dip', 'shelf'];
/** So many that a second pack begins. */
const MORE = Array.from({ length: 31 }, (_, index) => `more-${index}`);
/** Four hours of readings from an instant; the shelf is measured at instants of its own. */
const hours = (probes: readonly string[], from: number): readonly Reading[] =>
  Array.from({ length: 24 }, (_, index) =>
    probes.map((probe, number) =>
      reading(
        probe,
        from + index * 600_000 + (probe === 'shelf' ? 900 : 0),
        60 + ((index * 7 + number) % 50) / 16,
      ),
    ),
  ).flat();

const withStore = async <T>(work: (store: Store, database: LabDatabase) => Promise<T>): Promise<T> => {
  const database = openDatabase(file);
  const store = openSqliteStore(database);
  try {
    return await work(store, database);
  } finally {
    await store.close();
    database.close();
  }
};
let offset = 0;
const commit = (store: Store, readings: readonly Reading[]): Promise<void> =>
  store.apply({ readings, ruleState: {}, alongside: [], offset: ++offset });
const raw = (store: Store, probe: string): Promise<readonly Reading[]> =>
  store.raw({ probe, from: epochMillis(0), to: epochMillis(START * 2), limit: 10_000 });
const counted = (store: Store, probe: string) =>
  store
    .buckets({ probe, from: epochMillis(START), to: epochMillis(START + MILLIS_PER_DAY), points: 20 })
    .then((buckets) => buckets.reduce((sum, { count }) => sum + count, 0));

/** Changes one byte of what lies in the file, wherever it does. */
function damage(bytes: Buffer, at: number): void {
  const whole = readFileSync(file);
  let places = 0;
  for (let place = whole.indexOf(bytes); place >= 0; place = whole.indexOf(bytes, place + 1)) {
    whole[place + at] = (whole[place + at] ?? 0) ^ 0x40;
    places += 1;
  }
  expect(places).toBeGreaterThan(0);
  writeFileSync(file, whole);
}

/** The oldest pack of the first probes. */
const firstPack = (database: LabDatabase) =>
  database.writer
    .prepare<[], { readonly directory: Buffer; readonly body: Buffer }>(
      'SELECT directory, body FROM reading_pack WHERE chunk = 0 ORDER BY start LIMIT 1',
    )
    .get() ?? { directory: Buffer.alloc(0), body: Buffer.alloc(0) };

const sealHours = (store: Store): Promise<void> =>
  store.tidy(epochMillis(START + 5 * MILLIS_PER_HOUR), () => null);
const sealDay = (store: Store): Promise<void> =>
  store.tidy(epochMillis(START + 2 * MILLIS_PER_DAY), () => null);

describe('readings that the disk has damaged', () => {
  it('are named by verify and set aside, and sealing goes on with all others', async () => {
    const all = hours([...PROBES, ...MORE], START);
    const bytes = await withStore(async (store, database) => {
      await commit(store, all);
      await sealHours(store);
      return firstPack(database);
    });
    const shelf = readDirectory(bytes.directory).members[2];
    damage(bytes.body, shelf?.offset ?? 0);
    const hour = { from: epochMillis(START), to: epochMillis(START + MILLIS_PER_HOUR) };
    await withStore(async (store, database) => {
      await expect(sealDay(store)).rejects.toThrow('checksum');
      expect(await store.health()).toMatchObject({ ok: false, problems: [{ code: 'readings-damaged' }] });
      await expect(store.raw({ probe: 'shelf', ...hour, limit: 9 })).rejects.toMatchObject({
        code: 'readings-damaged',
      });
      // Probes of another pack do not wait for it.
      const days = database.writer.prepare('SELECT chunk FROM reading_pack WHERE end - start = 86400000');
      expect(days.pluck().all()).toEqual([1]);
    });
    expect(await runVerb('verify', ['--data', data])).toBe(1);
    const [named = ''] = printed;
    expect(named).toContain('probe shelf: readings: the checksum does not agree');
    expect(printed.at(-1)).toContain('set-aside');
    printed = [];
    expect(await runVerb('set-aside', ['--data', data])).toBe(0);
    expect(printed).toEqual([named, 'set aside and kept: 1 packs of readings, 0 spans of figures']);
    await withStore(async (store, database) => {
      await sealDay(store);
      expect(await store.health()).toMatchObject({ ok: true });
      for (const probe of ['pot', 'dip', 'more-0', 'more-30'])
        expect(await raw(store, probe)).toEqual(all.filter((each) => each.probe === probe));
      const lost = START + MILLIS_PER_HOUR;
      expect(await raw(store, 'shelf')).toEqual(
        all.filter(({ at, probe }) => probe === 'shelf' && at >= lost),
      );
      // The figures of its hour are still charted.
      expect(await counted(store, 'shelf')).toBe(24);
      const kept = database.writer.prepare('SELECT directory, body FROM damaged_readings').all();
      expect(kept).toHaveLength(1);
      expect(kept).toMatchObject([{ directory: bytes.directory }]);
    });
    printed = [];
    expect(await runVerb('verify', ['--data', data])).toBe(0);
  });

  it('are a whole pack where its directory is damaged; what comes late for its hours is added to their figures', async () => {
    const all = hours(PROBES, START);
    const { directory } = await withStore(async (store, database) => {
      await commit(store, all);
      await sealHours(store);
      return firstPack(database);
    });
    damage(directory, 0);
    expect(await runVerb('set-aside', ['--data', data])).toBe(0);
    await withStore(async (store) => {
      await commit(store, [reading('pot', START + 61_000, 55)]);
      await sealDay(store);
      await commit(store, [reading('pot', START + 62_000, 54)]);
      await sealDay(store);
      expect(await counted(store, 'pot')).toBe(26);
      expect(await raw(store, 'pot')).toHaveLength(24 - 6 + 2);
    });
    printed = [];
    expect(await runVerb('verify', ['--data', data])).toBe(0);
  });

  it('are figures of hours too, which are worked out anew from their readings', async () => {
    const all = hours(PROBES, START);
    const hoursOf = await withStore(async (store, database) => {
      await commit(store, all);
      await sealDay(store);
      const figures = database.writer.prepare<[], Buffer>('SELECT hours FROM reading_hours WHERE series = 2');
      return figures.pluck().get() ?? Buffer.alloc(0);
    });
    damage(hoursOf, hoursOf.length - 9);
    expect(await runVerb('verify', ['--data', data])).toBe(1);
    expect(printed[0]).toContain('probe dip: figures');
    expect(await runVerb('set-aside', ['--data', data])).toBe(0);
    await withStore(async (store) => {
      expect(await counted(store, 'dip')).toBe(24);
      expect(await raw(store, 'dip')).toEqual(all.filter(({ probe }) => probe === 'dip'));
    });
  });

  it('are none in a sound folder, which stays as it is; a folder without a lab is refused', async () => {
    await withStore(async (store) => {
      await commit(store, hours(PROBES, START));
      await sealDay(store);
    });
    expect(await runVerb('set-aside', ['--data', data])).toBe(0);
    expect(printed).toEqual(['set aside and kept: 0 packs of readings, 0 spans of figures']);
    vi.spyOn(console, 'error').mockImplementation(() => {});
    expect(await runVerb('set-aside', ['--data', join(data, 'none')])).toBe(1);
  });
});
