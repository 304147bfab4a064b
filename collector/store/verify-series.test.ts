import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type LabDatabase, openDatabase } from '../../lab/database/database.ts';
import { reading, START } from '../../tests/store-specification.ts';
import { epochMillis, MILLIS_PER_DAY } from '../../wax/units.ts';
import { openSqliteStore } from './sqlite-store.ts';
import type { Store } from './store.ts';
import { verifySeries } from './verify-series.ts';

const PROBES = ['pot-1', 'pot-2', 'shelf'];
const READINGS_EACH = 60;

let folder: string;
let database: LabDatabase;
let store: Store;
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'waxwarden-'));
  database = openDatabase(join(folder, 'lab.db'));
  store = openSqliteStore(database);
  // The shelf is measured at instants of its own.
  const readings = Array.from({ length: READINGS_EACH }, (_, index) =>
    PROBES.map((probe, number) =>
      reading(
        probe,
        START + index * 60_000 + (number === 2 ? 900 : 0),
        60 + ((index * 7) % 50) / 16 + number,
      ),
    ),
  ).flat();
  await store.apply({ readings, ruleState: {}, alongside: [], offset: 1 });
  await store.tidy(epochMillis(START + 2 * MILLIS_PER_DAY), () => null);
});
afterAll(async () => {
  await store.close();
  database.close();
  rmSync(folder, { recursive: true });
});

const faults = (): number => {
  let found = 0;
  verifySeries(database.writer, () => (found += 1));
  return found;
};

/** Where a changed bit of the one pack goes unnoticed, as `byte.bit`. */
function overlooked(column: 'directory' | 'body'): readonly string[] {
  const packs = database.writer.prepare<[], { readonly id: number; readonly bytes: Buffer }>(
    `SELECT id, ${column} AS bytes FROM reading_pack`,
  );
  const { id, bytes } = packs.get() ?? { id: 0, bytes: Buffer.alloc(0) };
  const put = database.writer.prepare<[Buffer, number]>(`UPDATE reading_pack SET ${column} = ? WHERE id = ?`);
  const places: string[] = [];
  for (let at = 0; at < bytes.length; at += 1)
    for (let bit = 0; bit < 8; bit += 1) {
      const changed = Buffer.from(bytes);
      changed[at] = (changed[at] ?? 0) ^ (1 << bit);
      put.run(changed, id);
      if (faults() === 0) places.push(`${at}.${bit}`);
    }
  put.run(bytes, id);
  return places;
}

describe('the check of sealed readings', () => {
  it('finds nothing in what was sealed', () => {
    expect(faults()).toBe(0);
    expect(verifySeries(database.writer, () => {}).readings).toBe(PROBES.length * READINGS_EACH);
  });

  it('finds each changed bit of the directory of a pack', () => {
    expect(overlooked('directory')).toEqual([]);
  });

  it('finds each changed bit of the readings of a pack', () => {
    expect(overlooked('body')).toEqual([]);
  });
});
