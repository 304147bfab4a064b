// The watch watches itself: the state of its store, its rules and its disk enters the journal as an entry when it
// changes, so that rules raise it like anything else.

import { stat, statfs } from 'node:fs/promises';
import { encodeCause } from '../alerts/notices/texts/self-cause.ts';
import type { Store } from '../collector/store/store.ts';
import type { Entry, SelfCheckEntry } from '../lab/entry.ts';
import { type Problem, problem } from '../wax/result.ts';
import { type EpochMillis, MILLIS_PER_DAY, MILLIS_PER_HOUR } from '../wax/units.ts';
import type { SetAside } from './set-aside.ts';

const INTERVAL_MILLIS = 15_000;
/** An entry that was set aside is reported for so long. */
const SET_ASIDE_MILLIS = MILLIS_PER_HOUR;
/** Below both, a day's readings of a large lab may not fit any more. */
const LEAST_FREE_BYTES = 1_000_000_000;
const LEAST_FREE_SHARE = 0.02;

/** A copy each day may fail for a night or two; one by hand belongs to the week. */
const OLD_DAILY_MILLIS = 3 * MILLIS_PER_DAY;
const OLD_BY_HAND_MILLIS = 8 * MILLIS_PER_DAY;

export interface LastCopy {
  /** When the last good one was made; null when there never was one. */
  readonly at: EpochMillis | null;
  /** Why the newest attempt failed; null when it did not. */
  readonly fault: string | null;
  readonly isDaily: boolean;
}

export type SelfCheckResult = Pick<SelfCheckEntry, 'part' | 'name' | 'ok' | 'detail'>;

export interface SelfCheckParts {
  readonly store: Pick<Store, 'health'>;
  readonly setAside: () => SetAside | null;
  readonly dataFolder: string;
  /** File of the database in it. */
  readonly database: string;
  /** Null where no copies are set. */
  readonly lastCopy: () => LastCopy | null;
  readonly now: () => EpochMillis;
  readonly append: (entries: readonly Entry[]) => Promise<number>;
}

async function checkStore(
  store: SelfCheckParts['store'],
  setAside: SetAside | null,
  now: EpochMillis,
): Promise<SelfCheckResult> {
  const { ok, problems } = await store.health();
  const all = [...(ok ? [] : problems), ...setAsideProblems(setAside, now)];
  return {
    part: 'store',
    name: '',
    ok: all.length === 0,
    detail: encodeCause({ code: 'part-problems', problems: all }),
  };
}

/** One entry that the rules could not take is a hole in the watch, so people learn of it. */
export const setAsideProblems = (setAside: SetAside | null, now: EpochMillis): readonly Problem[] =>
  setAside !== null && now - setAside.at < SET_ASIDE_MILLIS
    ? [problem('entry-set-aside', { kind: setAside.kind, reason: setAside.reason })]
    : [];

/** Null where there is no such file. */
export const inodeOf = async (file: string): Promise<number | null> =>
  (await stat(file).catch(() => null))?.ino ?? null;

/** `database` with the inode that it had when it was opened: what is written to a file that was taken away is lost. */
export async function checkDisk(
  folder: string,
  database: { readonly file: string; readonly inode: number | null },
): Promise<SelfCheckResult> {
  if ((await inodeOf(database.file)) !== database.inode) {
    const problems = [problem('data-folder-gone', { folder })];
    return { part: 'disk', name: '', ok: false, detail: encodeCause({ code: 'part-problems', problems }) };
  }
  const { bavail, blocks, bsize } = await statfs(folder);
  const free = bavail * bsize;
  const ok = free >= LEAST_FREE_BYTES || free >= LEAST_FREE_SHARE * blocks * bsize;
  const detail = encodeCause({ code: 'disk-free', values: { free_gigabytes: free / 1e9 } });
  return { part: 'disk', name: '', ok, detail };
}

/** The age of the last copy of the data, and why there is none. */
export function checkCopy(copy: LastCopy | null, now: EpochMillis): SelfCheckResult {
  const oldest = copy?.isDaily === true ? OLD_DAILY_MILLIS : OLD_BY_HAND_MILLIS;
  const isOld = copy !== null && (copy.at === null ? copy.fault !== null : now - copy.at > oldest);
  const problems: Problem[] = [];
  if (isOld && copy.at !== null)
    problems.push(problem('copy-old', { days: Math.floor((now - copy.at) / MILLIS_PER_DAY) }));
  if (isOld && copy.fault !== null) problems.push(problem('copy-failed', { reason: copy.fault }));
  return { part: 'disk', name: 'copy', ok: !isOld, detail: encodeCause({ code: 'part-problems', problems }) };
}

/** Those that differ from what was last reported; the first time only what is not well. */
export function findChangedResults(
  reported: ReadonlyMap<string, boolean>,
  results: readonly SelfCheckResult[],
): readonly SelfCheckResult[] {
  return results.filter(({ part, name, ok }) => ok !== (reported.get(`${part}/${name}`) ?? true));
}

/** Checks every few seconds; returns a function that ends it. */
export function startSelfCheck(parts: SelfCheckParts): () => void {
  const { store, setAside, dataFolder, database, lastCopy, now, append } = parts;
  const reported = new Map<string, boolean>();
  const inode = inodeOf(database);
  const check = async (): Promise<void> => {
    const changed = findChangedResults(reported, [
      await checkStore(store, setAside(), now()),
      await checkDisk(dataFolder, { file: database, inode: await inode }),
      checkCopy(lastCopy(), now()),
    ]);
    if (changed.length === 0) return;
    await append(changed.map((result) => ({ kind: 'self-check', receivedAt: now(), ...result })));
    for (const { part, name, ok } of changed) reported.set(`${part}/${name}`, ok);
  };
  const timer = setInterval(() => {
    // What could not be checked or journaled is checked again; the journal's own state shows why.
    check().catch(() => {});
  }, INTERVAL_MILLIS);
  return () => clearInterval(timer);
}
