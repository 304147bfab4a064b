// A copy of the data folder a day into the folder that the setting names, the newest seven kept. What became of each is
// recorded, so that the age of the last one is known.

import { existsSync, readdirSync, rmSync, statSync } from 'node:fs';
import { basename, join, resolve } from 'node:path';
import { Worker } from 'node:worker_threads';
import { type CopyRecord, type DataCopy, openCopyRecord } from '../../lab/database/copy-record.ts';
import type { LabDatabase } from '../../lab/database/database.ts';
import type { LastCopy } from '../../pipeline/self-check.ts';
import { type EpochMillis, MILLIS_PER_DAY, MILLIS_PER_HOUR, MILLIS_PER_MINUTE } from '../../wax/units.ts';
import type { CopyOrder } from './copy-worker.ts';

const LOOK_MILLIS = 5 * MILLIS_PER_MINUTE;
const RETRY_MILLIS = MILLIS_PER_HOUR;
const KEPT = 7;
const NAME = /^waxwarden-\d{4}-\d{2}-\d{2}\.db$/;
const UNFINISHED = /^waxwarden-\d{4}-\d{2}-\d{2}\.db\.partial/;

export interface DailyCopiesParts {
  readonly data: string;
  readonly copies: string;
  readonly database: LabDatabase;
  readonly now: () => EpochMillis;
}

/** Looks now and every few minutes whether one is due; returns a function that ends it. */
export function startDailyCopies({ data, copies, database, now }: DailyCopiesParts): () => Promise<void> {
  const record = openCopyRecord(database);
  let running: Promise<void> | null = null;
  const ending = new AbortController();
  const look = (): void => {
    if (!isCopyDue(record, now())) return;
    running ??= copyOnce().finally(() => {
      running = null;
    });
  };
  const copyOnce = async (): Promise<void> => {
    const at = now();
    const file = resolve(copies, `waxwarden-${new Date(at).toISOString().slice(0, 10)}.db`);
    removeUnfinished(copies);
    const fault = await copyInThread({ folder: data, target: file }, ending.signal);
    if (ending.signal.aborted && fault !== null) return;
    record.add({ at, file, bytes: fault === null ? statSync(file).size : null, fault });
    if (fault === null) removeOld(copies, basename(file));
  };
  const timer = setInterval(look, LOOK_MILLIS);
  look();
  return async () => {
    clearInterval(timer);
    // A copy of years of readings would hold up the end; the next start makes it instead.
    if (running !== null) ending.abort();
    await running;
  };
}

/**
 * A day after the last one, and an hour after one that failed. One that is later than now was made while the clock ran
 * ahead.
 */
export function isCopyDue(record: Pick<CopyRecord, 'lastGood' | 'newest'>, now: EpochMillis): boolean {
  const [good, [newest]] = [record.lastGood(), record.newest(1)];
  const isWithin = ({ at }: DataCopy, millis: number): boolean => at <= now && now - at < millis;
  if (good !== null && isWithin(good, MILLIS_PER_DAY)) return false;
  return newest === undefined || newest.fault === null || !isWithin(newest, RETRY_MILLIS);
}

/** What a killed or ended program left of copies of other days: as large as they, and no use to anybody. */
function removeUnfinished(folder: string): void {
  if (!existsSync(folder)) return;
  for (const name of readdirSync(folder).filter((name) => UNFINISHED.test(name)))
    rmSync(join(folder, name), { force: true });
}

/**
 * Copies named for a later day than the newest were made while the clock ran ahead: they are deleted first, or the
 * newest one would be.
 */
function removeOld(folder: string, newest: string): void {
  const copies = readdirSync(folder)
    .filter((name) => NAME.test(name))
    .sort();
  const inOrder = [...copies.filter((name) => name > newest), ...copies.filter((name) => name <= newest)];
  for (const name of inOrder.slice(0, -KEPT)) rmSync(join(folder, name), { force: true });
}

/** Null when it is done, else why it failed. */
function copyInThread(order: CopyOrder, ending: AbortSignal): Promise<string | null> {
  const isSource = import.meta.url.endsWith('.ts');
  return new Promise((done) => {
    // From sources the thread needs the loader that strips types; what is built needs nothing.
    const worker = new Worker(new URL(isSource ? './copy-worker.ts' : './copy-worker.js', import.meta.url), {
      name: 'copy',
      workerData: order,
      execArgv: isSource
        ? ['--import', new URL('../../scripts/typescript-hooks.mjs', import.meta.url).href]
        : [],
    });
    ending.addEventListener('abort', () => void worker.terminate());
    worker.once('message', (fault: string | null) => done(fault));
    worker.once('error', (error) => done(error.message));
    worker.once('exit', () => done('the copy ended too early'));
  });
}

/** The state of the last copy; null where no daily copies are made and none was ever made by hand. */
export function lastCopyOf(record: CopyRecord, isDaily: boolean): LastCopy | null {
  const [good, [newest]] = [record.lastGood(), record.newest(1)];
  if (!isDaily && newest === undefined) return null;
  return { at: good?.at ?? null, fault: newest?.fault ?? null, isDaily };
}
