// The watcher watches itself: what its store and its disk say enters the journal as an entry, when it changes, so
// that rules raise it like anything else.

import { statfs } from 'node:fs/promises';
import { encodeCause } from '../alerts/notices/texts/self-cause.ts';
import type { Store } from '../collector/store/store.ts';
import type { Entry, SelfCheckEntry } from '../lab/entry.ts';
import type { EpochMillis } from '../wax/units.ts';

const INTERVAL_MILLIS = 15_000;
/** Below both, a day's readings of a large lab may not fit any more. */
const LEAST_FREE_BYTES = 1_000_000_000;
const LEAST_FREE_SHARE = 0.02;

export type SelfCheckFinding = Pick<SelfCheckEntry, 'part' | 'name' | 'ok' | 'detail'>;

export interface SelfCheckParts {
  readonly store: Pick<Store, 'health'>;
  readonly dataFolder: string;
  readonly now: () => EpochMillis;
  readonly append: (entries: readonly Entry[]) => Promise<number>;
}

async function diskFinding(folder: string): Promise<SelfCheckFinding> {
  const { bavail, blocks, bsize } = await statfs(folder);
  const free = bavail * bsize;
  const ok = free >= LEAST_FREE_BYTES || free >= LEAST_FREE_SHARE * blocks * bsize;
  return {
    part: 'disk',
    name: '',
    ok,
    detail: encodeCause({ code: 'disk-free', values: { free_gigabytes: free / 1e9 } }),
  };
}

/** What changed since it was last said; the first time only what is not well. */
export function newFindings(
  said: ReadonlyMap<string, boolean>,
  findings: readonly SelfCheckFinding[],
): readonly SelfCheckFinding[] {
  return findings.filter(({ part, name, ok }) => ok !== (said.get(`${part}/${name}`) ?? true));
}

/** Looks every few seconds; answers a function that ends it. */
export function startSelfCheck({ store, dataFolder, now, append }: SelfCheckParts): () => void {
  const said = new Map<string, boolean>();
  const look = async (): Promise<void> => {
    const { ok, problems } = await store.health();
    const detail = encodeCause({ code: 'part-problems', problems: ok ? [] : problems });
    const findings = newFindings(said, [
      { part: 'store', name: '', ok, detail },
      await diskFinding(dataFolder),
    ]);
    if (findings.length === 0) return;
    await append(findings.map((finding) => ({ kind: 'self-check', receivedAt: now(), ...finding })));
    for (const finding of findings) said.set(`${finding.part}/${finding.name}`, finding.ok);
  };
  const timer = setInterval(() => {
    // What could not be looked at or written down is looked at again; the journal's own state says why.
    look().catch(() => {});
  }, INTERVAL_MILLIS);
  return () => clearInterval(timer);
}
