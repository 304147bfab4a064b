// kill -9 while readings are sealed, deleted by retention or copied, at instants spread over the work: nothing is missing that
// is to stay, nothing is doubled, and every pack is sound.

import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { cpSync, existsSync, rmSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { createInterface } from 'node:readline';
import { setTimeout as delay } from 'node:timers/promises';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { DATABASE_NAME } from '../../cli/data/data-copy.ts';
import { databaseFaultLines } from '../../cli/verbs/verify.ts';
import { openRetention } from '../../collector/store/retention.ts';
import { openSqliteStore } from '../../collector/store/sqlite-store.ts';
import { openDatabase } from '../../lab/database/database.ts';
import type { Reading } from '../../lab/reading.ts';
import { celsius, epochMillis, MILLIS_PER_DAY, MILLIS_PER_MINUTE } from '../../wax/units.ts';
import { temporaryFolder } from './lab-process.ts';

const START = Date.UTC(2031, 4, 1);
const DAYS = 8;
const PROBES = ['pot-1', 'shelf-1', 'pot-2', 'shelf-2', 'pot-3', 'shelf-3'];
const READINGS_DAYS = 40;
const KILLS = 8;
const SEALED_AT = START + (DAYS + 2) * MILLIS_PER_DAY;
/** The first five days of the pots go. */
const EXPIRED_AT = START + (READINGS_DAYS + 5) * MILLIS_PER_DAY;
const KEPT_FROM = START + 5 * MILLIS_PER_DAY;

const readingsOf = (probe: string): readonly Reading[] =>
  Array.from({ length: DAYS * 24 * 60 }, (_, minute) => ({
    probe,
    at: epochMillis(START + minute * MILLIS_PER_MINUTE + PROBES.indexOf(probe)),
    celsius: celsius(50 + ((minute * 7 + PROBES.indexOf(probe)) % 160) / 16),
    quality: 'good',
  }));
const expected = new Map(PROBES.map((probe) => [probe, readingsOf(probe)]));

let base: Awaited<ReturnType<typeof temporaryFolder>>;
const place = (name: string): string => join(base.path, name);
const freshCopy = (from: string, to: string): string => {
  rmSync(place(to), { recursive: true, force: true });
  cpSync(place(from), place(to), { recursive: true });
  return place(to);
};

beforeAll(async () => {
  base = await temporaryFolder();
  const database = openDatabase(join(place('fresh'), DATABASE_NAME));
  const store = openSqliteStore(database);
  let offset = 0;
  for (const readings of expected.values())
    await store.apply({ readings, ruleState: {}, alongside: [], offset: ++offset });
  openRetention(database).set(
    [{ kind: 'melt-pot', readingsDays: READINGS_DAYS, hoursDays: null }],
    epochMillis(START),
  );
  await store.close();
  database.close();
});
afterAll(() => base.remove());

const stored = async (file: string): Promise<ReadonlyMap<string, readonly Reading[]>> => {
  const database = openDatabase(file);
  const store = openSqliteStore(database);
  const span = { from: epochMillis(START), to: epochMillis(START + DAYS * MILLIS_PER_DAY), limit: 100_000 };
  const all = new Map<string, readonly Reading[]>();
  for (const probe of PROBES) all.set(probe, await store.raw({ ...span, probe }));
  await store.close();
  database.close();
  return all;
};

const startWork = async (folder: string, work: string, argument: string): Promise<ChildProcess> => {
  const hooks = resolve('scripts/typescript-hooks.mjs');
  const child = spawn(
    process.execPath,
    [`--import=${hooks}`, 'tests/integration/store-child.ts', folder, work, argument],
    { stdio: ['ignore', 'pipe', 'inherit'] },
  );
  if (child.stdout === null) throw new Error('the process has no output');
  await once(createInterface(child.stdout), 'line');
  return child;
};

const ended = (child: ChildProcess): Promise<unknown> =>
  child.exitCode === null && child.signalCode === null ? once(child, 'exit') : Promise.resolve();

/** Instants of a kill, as shares of how long the work takes: one in each of equal parts of it (golden ratio steps). */
const shares = Array.from({ length: KILLS }, (_, kill) => (kill + ((kill * 0.618_034) % 1)) / KILLS);

/** Does the work whole once, then kills it at each share of its time; `check` looks at what is left. */
const killedAtEach = async (
  from: string,
  work: string,
  argument: string,
  check: (folder: string) => Promise<void>,
): Promise<number> => {
  const whole = await startWork(freshCopy(from, `${work}-whole`), work, argument);
  const begin = performance.now();
  await ended(whole);
  expect(whole.exitCode).toBe(0);
  const millis = performance.now() - begin;
  let killed = 0;
  for (const share of shares) {
    const folder = freshCopy(from, `${work}-killed`);
    const child = await startWork(folder, work, argument);
    await delay(share * millis);
    child.kill('SIGKILL');
    await ended(child);
    if (child.signalCode === 'SIGKILL') killed += 1;
    await check(folder);
  }
  return killed;
};

describe('a process that is killed at work on stored readings', { timeout: 600_000 }, () => {
  it('keeps each reading once while they are sealed', async () => {
    const killed = await killedAtEach('fresh', 'seal', String(SEALED_AT), async (folder) => {
      const file = join(folder, DATABASE_NAME);
      expect(databaseFaultLines(file).lines).toEqual([]);
      expect(await stored(file)).toEqual(expected);
    });
    expect(killed).toBeGreaterThan(0);
  });

  it('deletes what is due by whole days and nothing else while retention deletes', async () => {
    const whole = await startWork(freshCopy('fresh', 'sealed'), 'seal', String(SEALED_AT));
    await ended(whole);
    const killed = await killedAtEach('sealed', 'expire', String(EXPIRED_AT), async (folder) => {
      const file = join(folder, DATABASE_NAME);
      expect(databaseFaultLines(file).lines).toEqual([]);
      for (const [probe, rows] of await stored(file)) {
        const all = expected.get(probe) ?? [];
        const oldest = rows[0]?.at ?? 0;
        const from = Math.floor(oldest / MILLIS_PER_DAY) * MILLIS_PER_DAY;
        expect(rows).toEqual(all.filter(({ at }) => at >= from));
        expect(from).toBeLessThanOrEqual(probe.startsWith('pot') ? KEPT_FROM : START);
      }
    });
    expect(killed).toBeGreaterThan(0);
  });

  it('leaves a whole copy or none while a copy is made, and the folder as it was', async () => {
    const target = place('copy.db');
    await killedAtEach('fresh', 'backup', target, async (folder) => {
      if (existsSync(target)) expect(await stored(target)).toEqual(expected);
      rmSync(target, { force: true });
      expect(await stored(join(folder, DATABASE_NAME))).toEqual(expected);
    });
  });
});
