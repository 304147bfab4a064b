// The watch watches itself: the state of its store, its rules and its disk enters the journal as an entry when it changes, so
// that rules raise it like anything else.

import { statfs } from 'node:fs/promises';
import { encodeCause } from '../alerts/notices/texts/self-cause.ts';
import type { Store } from '../collector/store/store.ts';
import type { Entry, SelfCheckEntry } from '../lab/entry.ts';
import { type Problem, problem } from '../wax/result.ts';
import { type EpochMillis, MILLIS_PER_HOUR } from '../wax/units.ts';
import type { SetAside } from './set-aside.ts';

const INTERVAL_MILLIS = 15_000;
/** An entry that was set aside is reported for so long. */
const SET_ASIDE_MILLIS = MILLIS_PER_HOUR;
/** Below both, a day's readings of a large lab may not fit any more. */
const LEAST_FREE_BYTES = 1_000_000_000;
const LEAST_FREE_SHARE = 0.02;

export type SelfCheckResult = Pick<SelfCheckEntry, 'part' | 'name' | 'ok' | 'detail'>;

export interface SelfCheckParts {
  readonly store: Pick<Store, 'health'>;
  readonly setAside: () => SetAside | null;
  readonly dataFolder: string;
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

async function checkDisk(folder: string): Promise<SelfCheckResult> {
  const { bavail, blocks, bsize } = await statfs(folder);
  const free = bavail * bsize;
  const ok = free >= LEAST_FREE_BYTES || free >= LEAST_FREE_SHARE * blocks * bsize;
  const detail = encodeCause({ code: 'disk-free', values: { free_gigabytes: free / 1e9 } });
  return { part: 'disk', name: '', ok, detail };
}

/** Those that differ from what was last reported; the first time only what is not well. */
export function changedResults(
  reported: ReadonlyMap<string, boolean>,
  results: readonly SelfCheckResult[],
): readonly SelfCheckResult[] {
  return results.filter(({ part, name, ok }) => ok !== (reported.get(`${part}/${name}`) ?? true));
}

/** Checks every few seconds; answers a function that ends it. */
export function startSelfCheck({ store, setAside, dataFolder, now, append }: SelfCheckParts): () => void {
  const reported = new Map<string, boolean>();
  const check = async (): Promise<void> => {
    const changed = changedResults(reported, [
      await checkStore(store, setAside(), now()),
      await checkDisk(dataFolder),
    ]);
    if (changed.length === 0) return;
    await append(changed.map((result) => ({ kind: 'self-check', receivedAt: now(), ...result })));
    for (const { part, name, ok } of changed) reported.set(`${part}/${name}`, ok);
  };
  const timer = setInterval(() => {
    // What could not be checked or journaled is checked again; the journal's own state says why.
    check().catch(() => {});
  }, INTERVAL_MILLIS);
  return () => clearInterval(timer);
}
