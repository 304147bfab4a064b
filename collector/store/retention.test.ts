import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type LabDatabase, openDatabase } from '../../lab/database/database.ts';
import type { StationKind } from '../../lab/station-kinds.ts';
import { reading, START } from '../../tests/store-specification.ts';
import { type EpochMillis, epochMillis, MILLIS_PER_DAY, MILLIS_PER_HOUR } from '../../wax/units.ts';
import { openSqliteStore } from './sqlite-store.ts';
import type { Store } from './store.ts';

let folder: string;
let database: LabDatabase;
let store: Store;
const DAYS = 60;
const now = epochMillis(START + DAYS * MILLIS_PER_DAY);
const kindOf = (probe: string): StationKind | null =>
  (({ pot: 'melt-pot', shelf: 'shelf' }) as const)[probe] ?? null;
const probes = ['pot', 'shelf', 'nowhere'];

beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'waxwarden-'));
  database = openDatabase(join(folder, 'lab.db'));
  store = openSqliteStore(database);
  const readings = Array.from({ length: DAYS * 4 }, (_, index) =>
    probes.map((probe) => reading(probe, START + index * 6 * MILLIS_PER_HOUR, 20 + (index % 9))),
  ).flat();
  await store.apply({ readings, ruleState: {}, alongside: [], offset: 1 });
  await store.tidy(epochMillis(now - MILLIS_PER_DAY), kindOf);
  await store.tidy(epochMillis(now), kindOf);
});
afterEach(async () => {
  await store.close();
  database.close();
  rmSync(folder, { recursive: true });
});

const set = (readingsDays: number | null, hoursDays: number | null, at: EpochMillis): void =>
  database.transaction(() => store.retention?.set([{ kind: 'melt-pot', readingsDays, hoursDays }], at));
const oldestOf = async (probe: string): Promise<number> => {
  const rows = await store.raw({ probe, from: epochMillis(0), to: epochMillis(now), limit: 1 });
  return Math.round((now - (rows[0]?.at ?? 0)) / MILLIS_PER_DAY);
};
const charted = async (probe: string): Promise<number> => {
  const span = { from: epochMillis(START), to: epochMillis(now), points: 100 };
  const buckets = await store.buckets({ probe, ...span });
  return buckets.reduce((sum, { count }) => sum + count, 0);
};

describe('the retention of readings', () => {
  it('deletes nothing until a person sets it, and then not within a day', async () => {
    expect(store.retention?.beginsAt()).toBeNull();
    set(40, null, now);
    await store.tidy(epochMillis(now + MILLIS_PER_DAY - 1), kindOf);
    expect(await oldestOf('pot')).toBe(DAYS);
  });

  it('shows beforehand what it will delete, and deletes that and no more', async () => {
    const at = epochMillis(now - 2 * MILLIS_PER_DAY);
    set(40, null, at);
    const found = store.retention?.expiring(store.retention.kinds(), now, kindOf) ?? [];
    expect(found).toEqual([{ probe: 'pot', readings: 4 * 20 - 1, oldest: START - 6 * MILLIS_PER_HOUR }]);
    await store.tidy(now, kindOf);
    expect([await oldestOf('pot'), await oldestOf('shelf'), await oldestOf('nowhere')]).toEqual([
      40,
      DAYS,
      DAYS,
    ]);
    expect(store.retention?.expiring(store.retention.kinds(), now, kindOf)).toEqual([]);
  });

  it('deletes nothing by a clock that is years ahead, also after a restart, once it is corrected within a day', async () => {
    const ahead = 30 * 365 * MILLIS_PER_DAY;
    set(40, 50, epochMillis(now - 2 * MILLIS_PER_DAY));
    for (const hours of [0, 1, 23]) {
      await store.tidy(epochMillis(now + ahead + hours * MILLIS_PER_HOUR), kindOf);
      if (hours === 1) store = openSqliteStore(database);
    }
    expect([await oldestOf('pot'), await charted('pot')]).toEqual([DAYS, DAYS * 4]);
    await store.tidy(now, kindOf);
    expect(await oldestOf('pot')).toBe(DAYS);
    await store.tidy(epochMillis(now + MILLIS_PER_DAY), kindOf);
    expect(await oldestOf('pot')).toBe(40 - 1);
  });

  it('keeps the figures of hours when the readings go, so that charts stay, until their own time', async () => {
    const before = await charted('pot');
    set(40, null, epochMillis(now - 2 * MILLIS_PER_DAY));
    await store.tidy(now, kindOf);
    expect(await charted('pot')).toBe(before);
    set(40, 50, epochMillis(now - 2 * MILLIS_PER_DAY));
    await store.tidy(now, kindOf);
    expect(await charted('pot')).toBeLessThan(before);
    expect(await charted('shelf')).toBe(before);
  });

  it('counts a late reading of a day whose readings are gone', async () => {
    set(40, null, epochMillis(now - 2 * MILLIS_PER_DAY));
    await store.tidy(now, kindOf);
    const before = await charted('pot');
    const late = reading('pot', START + 5 * MILLIS_PER_DAY + 1234, 99);
    await store.apply({ readings: [late], ruleState: {}, alongside: [], offset: 2 });
    expect(await charted('pot')).toBe(before + 1);
    await store.tidy(now, kindOf);
    expect(await charted('pot')).toBe(before + 1);
    expect(await oldestOf('pot')).toBe(40);
  });
});
