// Entries of the journal that were judged and wait for their commit. Pure: judging more of them changes what is held
// only when all of it went well, so that a failure leaves it as it was.

import type { AlarmChange } from '../alerts/watch/life/alarm.ts';
import type { WatchState } from '../alerts/watch/engine/memory.ts';
import type { Watch } from '../alerts/watch/engine/watch.ts';
import type { Rejection } from '../collector/decode/rejection.ts';
import type { DamagedSpan, Tail } from '../collector/journal/journal.ts';
import type { Qualify, QualifyState } from '../collector/qualify/qualify.ts';
import type { Entry } from '../lab/entry.ts';
import type { Lab } from '../lab/lab.ts';
import type { Reading } from '../lab/reading.ts';
import type { EpochMillis } from '../wax/units.ts';

/** What entries came to. */
export interface Judged {
  readonly readings: readonly Reading[];
  readonly alarmChanges: readonly AlarmChange[];
  readonly rejections: readonly Rejection[];
  readonly damaged: readonly DamagedSpan[];
  /** The refusal of each act by its offset; null when it was taken. */
  readonly acts: ReadonlyMap<number, { readonly code: string; readonly message: string } | null>;
  readonly sawTime: boolean;
  /** The newest instant at which they say that time passed; null when they do not. */
  readonly passed: EpochMillis | null;
}

export interface HeldBatch extends Judged {
  readonly watchState: WatchState;
  readonly qualifyState: QualifyState;
  /** Names of the parts of both states that changed, each below its prefix. */
  readonly changed: ReadonlySet<string>;
  /** Journal offset after the last entry. */
  readonly offset: number;
}

export const WATCH_PREFIX = 'watch/';
export const QUALIFY_PREFIX = 'qualify/';

export const holdNothing = (
  watchState: WatchState,
  qualifyState: QualifyState,
  offset: number,
): HeldBatch => ({
  readings: [],
  alarmChanges: [],
  rejections: [],
  damaged: [],
  acts: new Map(),
  sawTime: false,
  passed: null,
  watchState,
  qualifyState,
  changed: new Set(),
  offset,
});

/** Someone waits for it, or hears of it: it is not held back. */
export const isToBeTold = ({ alarmChanges, rejections, damaged, acts, sawTime }: Judged): boolean =>
  sawTime || alarmChanges.length > 0 || rejections.length > 0 || damaged.length > 0 || acts.size > 0;

export function holdMore(
  held: HeldBatch,
  tail: Tail,
  lab: Lab,
  { watch, qualify }: { readonly watch: Watch; readonly qualify: Qualify },
): HeldBatch {
  let { watchState, sawTime, passed } = held;
  const qualifyState: Record<string, unknown> = { ...held.qualifyState };
  const readings = [...held.readings];
  const alarmChanges = [...held.alarmChanges];
  const rejections = [...held.rejections];
  const acts = new Map(held.acts);
  const changed = new Set(held.changed);
  let run: Entry[] = [];

  const watchRun = () => {
    if (run.length === 0) return null;
    const step = watch.stepAll(watchState, run, lab);
    run = [];
    watchState = step.state;
    for (const part of step.changedParts) changed.add(WATCH_PREFIX + part);
    alarmChanges.push(...step.alarmChanges);
    return step;
  };

  for (const [index, raw] of tail.entries.entries()) {
    const qualified = qualify(qualifyState, raw, lab);
    for (const part of qualified.changedParts) changed.add(QUALIFY_PREFIX + part);
    rejections.push(...qualified.rejections);
    const entry = qualified.entry;
    if (entry === null) continue;
    if (entry.kind === 'readings') for (const reading of entry.readings) readings.push(reading);
    else if (entry.kind === 'tick') {
      sawTime = true;
      passed = entry.receivedAt;
    }
    if (entry.kind !== 'act') {
      run.push(entry);
      continue;
    }
    // An act is stepped alone, so that its refusal can be told to the person who did it.
    watchRun();
    run.push(entry);
    acts.set(tail.offsets[index] ?? tail.next, watchRun()?.refusals[0] ?? null);
  }
  watchRun();
  return {
    ...{ readings, alarmChanges, rejections, acts, sawTime, passed, watchState, qualifyState, changed },
    damaged: [...held.damaged, ...tail.damaged],
    offset: tail.next,
  };
}

/** The parts that changed, with their values; one that is gone is `undefined`. */
export const changedState = ({
  changed,
  watchState,
  qualifyState,
}: HeldBatch): Readonly<Record<string, unknown>> =>
  Object.fromEntries(
    [...changed].map((name) => [
      name,
      name.startsWith(WATCH_PREFIX)
        ? watchState[name.slice(WATCH_PREFIX.length)]
        : qualifyState[name.slice(QUALIFY_PREFIX.length)],
    ]),
  );
