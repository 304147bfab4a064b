// Entries of the journal that were judged and wait for their commit. The first judging of a batch copies the states that
// were handed in, so that a failure leaves them as they were; what is judged after it is written into the copies.

import type { WatchKey, WatchState } from '../alerts/watch/engine/state/memory.ts';
import { withTicksBefore } from '../alerts/watch/engine/silence/own-clock.ts';
import type { StationStatus } from '../alerts/watch/engine/station-status.ts';
import type { Watch } from '../alerts/watch/engine/watch.ts';
import type { AlarmChange } from '../alerts/watch/life/alarm.ts';
import type { Refusal } from '../alerts/watch/life/refusal.ts';
import type { Rejection } from '../collector/decode/rejection.ts';
import type { DamagedSpan, Tail } from '../collector/journal/journal.ts';
import type { QualifyPart, QualifyParts, QualifyState } from '../collector/qualify/probe-record.ts';
import type { Qualify } from '../collector/qualify/qualify.ts';
import type { StoredCelsius } from '../collector/qualify/times.ts';
import type { Entry } from '../lab/entry.ts';
import { isRecorded, type RecordedEntry } from '../lab/database/entry-record.ts';
import type { Lab } from '../lab/lab.ts';
import type { Reading } from '../lab/reading.ts';
import type { EpochMillis } from '../wax/units.ts';

/** What entries came to. */
export interface Judged {
  readonly readings: readonly Reading[];
  readonly alarmChanges: readonly AlarmChange[];
  /** The newest status of every station that was touched, by station. */
  readonly statuses: ReadonlyMap<string, StationStatus>;
  readonly rejections: readonly Rejection[];
  readonly damaged: readonly DamagedSpan[];
  /** The refusal of each act by its offset; null when it was accepted. */
  readonly acts: ReadonlyMap<number, Refusal | null>;
  /** What replays need beside readings, in its order. */
  readonly recorded: readonly RecordedEntry[];
  /** The newest instant at which a tick lets time pass; null when there was none. */
  readonly tickedAt: EpochMillis | null;
}

/** Judging more adds to it in place: at thousands of probes a copy of what it holds costs more than a message. */
export interface Batch extends Judged {
  readonly readings: Reading[];
  readonly alarmChanges: AlarmChange[];
  readonly statuses: Map<string, StationStatus>;
  readonly rejections: Rejection[];
  readonly damaged: DamagedSpan[];
  readonly acts: Map<number, Refusal | null>;
  readonly recorded: RecordedEntry[];
  /** The states are the batch's alone: judging more writes them in place, and spoils them when it fails. */
  readonly ownsStates: boolean;
  readonly watchState: WatchState;
  readonly qualifyState: QualifyState;
  readonly changedWatch: Set<WatchKey>;
  readonly changedQualify: Set<QualifyPart>;
  /** Journal offset after the last entry. */
  readonly offset: number;
}

export const WATCH_PREFIX = 'watch/';
/** Parts of another version that could not be read; nothing reads them, and nothing is lost. */
export const UNREAD_PREFIX = 'unread/watch/';
export const QUALIFY_PREFIX = 'qualify/';

export const emptyBatch = (watchState: WatchState, qualifyState: QualifyState, offset: number): Batch => ({
  readings: [],
  alarmChanges: [],
  statuses: new Map(),
  rejections: [],
  damaged: [],
  acts: new Map(),
  recorded: [],
  tickedAt: null,
  ownsStates: false,
  watchState,
  qualifyState,
  changedWatch: new Set(),
  changedQualify: new Set(),
  offset,
});

/** Someone waits for what is in it, so it is not held back. */
export const isUrgent = ({ alarmChanges, rejections, damaged, acts, tickedAt }: Judged): boolean =>
  tickedAt !== null ||
  alarmChanges.length > 0 ||
  rejections.length > 0 ||
  damaged.length > 0 ||
  acts.size > 0;

export interface JudgingParts {
  readonly watch: Watch;
  readonly qualify: Qualify;
  /** What the store keeps. */
  readonly stored: StoredCelsius;
}

/** What is kept with the commit of these: read from the store first, and only for what is late or came again. */
function indexKept(held: readonly Reading[], stored: StoredCelsius) {
  let values: Map<string, number> | null = null;
  const keyOf = (probe: string, at: number): string => `${at} ${probe}`;
  const add = (readings: readonly Reading[], into: Map<string, number>) => {
    for (const { probe, at, celsius } of readings) into.set(keyOf(probe, at), celsius);
  };
  const later: Reading[] = [];
  return {
    celsiusAt: (probe: string, at: number): number | null => {
      const inStore = stored(probe, at);
      if (inStore !== null) return inStore;
      if (values === null) {
        values = new Map();
        add(held, values);
      }
      add(later.splice(0), values);
      return values.get(keyOf(probe, at)) ?? null;
    },
    add: (readings: readonly Reading[]) => {
      later.push(...readings);
    },
  };
}

/**
 * The batch with the entries of `tail` qualified and judged; the one that is given is used up. One that owns its states is
 * spoiled when this throws; one that does not is as it was.
 */
export function judgeMore(
  batch: Batch,
  tail: Tail,
  lab: Lab,
  { watch, qualify, stored }: JudgingParts,
): Batch {
  const before = indexKept(batch.readings, stored);
  const own: QualifyParts = batch.ownsStates ? batch.qualifyState : { ...batch.qualifyState };
  const qualified = qualifyAll(own, tail, lab, qualify, before);
  const recorded = withTicksBefore(qualified.entries, batch.watchState.clock).filter(isRecorded);
  const judged = watchAll(batch, qualified, lab, watch);
  // Only now, when nothing can fail any more.
  addAll(batch.readings, qualified.readings);
  addAll(batch.alarmChanges, judged.alarmChanges);
  addAll(batch.rejections, qualified.rejections);
  addAll(batch.damaged, tail.damaged);
  addAll(batch.recorded, recorded);
  for (const [station, status] of judged.statuses) batch.statuses.set(station, status);
  for (const [offset, refusal] of judged.acts) batch.acts.set(offset, refusal);
  for (const key of judged.changed) batch.changedWatch.add(key);
  for (const part of qualified.changed) batch.changedQualify.add(part);
  return {
    ...batch,
    tickedAt: qualified.tickedAt ?? batch.tickedAt,
    ownsStates: true,
    watchState: judged.state,
    qualifyState: qualified.state,
    offset: tail.next,
  };
}

function addAll<T>(to: T[], more: readonly T[]): void {
  for (const each of more) to.push(each);
}

/** Entries that are left, with the journal offset after each. */
interface Placed {
  readonly entries: readonly Entry[];
  readonly offsets: readonly number[];
}

function qualifyAll(
  state: QualifyParts,
  tail: Tail,
  lab: Lab,
  qualify: Qualify,
  stored: ReturnType<typeof indexKept>,
) {
  const changed = new Set<QualifyPart>();
  const rejections: Rejection[] = [];
  const readings: Reading[] = [];
  const entries: Entry[] = [];
  const offsets: number[] = [];
  let tickedAt: EpochMillis | null = null;
  for (const [index, raw] of tail.entries.entries()) {
    const step = qualify(state, raw, lab, stored.celsiusAt);
    for (const part of step.changedParts) changed.add(part);
    for (const rejection of step.rejections) rejections.push(rejection);
    const { entry } = step;
    if (entry === null) continue;
    if (entry.kind === 'readings') {
      stored.add(entry.readings);
      for (const reading of entry.readings) readings.push(reading);
    } else if (entry.kind === 'tick') tickedAt = entry.receivedAt;
    entries.push(entry);
    offsets.push(tail.offsets[index] ?? tail.next);
  }
  return { state, changed, rejections, readings, entries, offsets, tickedAt };
}

/** Runs of entries at once; an act alone, so that its refusal can be answered to the person who did it. */
function watchAll({ ownsStates, watchState }: Batch, { entries, offsets }: Placed, lab: Lab, watch: Watch) {
  let state = watchState;
  let isOwn = ownsStates;
  const changed = new Set<WatchKey>();
  const alarmChanges: AlarmChange[] = [];
  const statuses = new Map<string, StationStatus>();
  const acts = new Map<number, Refusal | null>();
  for (let from = 0; from < entries.length; ) {
    const until = endOfRun(entries, from);
    const run = entries.slice(from, until);
    const step = isOwn ? watch.advance(state, run, lab) : watch.stepAll(state, run, lab);
    state = step.state;
    isOwn = true;
    for (const key of step.changedParts) changed.add(key);
    alarmChanges.push(...step.alarmChanges);
    for (const status of step.statuses) statuses.set(status.station, status);
    if (entries[from]?.kind === 'act') acts.set(offsets[from] ?? 0, step.refusals[0] ?? null);
    from = until;
  }
  // Where nothing was left to judge, they are still those that were handed in.
  return { state: isOwn ? state : { ...state }, changed, alarmChanges, statuses, acts };
}

function endOfRun(entries: readonly Entry[], from: number): number {
  if (entries[from]?.kind === 'act') return from + 1;
  let until = from + 1;
  while (until < entries.length && entries[until]?.kind !== 'act') until += 1;
  return until;
}

/** The parts that changed, by their stored names; one that is gone is `undefined`. */
export const collectChangedState = (batch: Batch): Readonly<Record<string, unknown>> => {
  const state: Record<string, unknown> = {};
  for (const key of batch.changedWatch) state[WATCH_PREFIX + key] = batch.watchState[key];
  for (const key of batch.changedQualify) state[QUALIFY_PREFIX + key] = batch.qualifyState[key];
  return state;
};
