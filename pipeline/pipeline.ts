// From the journal to everything that is computed from it: qualify, rules, alarms, store, in one transaction a
// batch. It owns the only loop of the main thread; the parts that it drives are pure or are behind interfaces.
// What nobody waits for is held for a moment, so that many small arrivals share one transaction.

import { setImmediate as nextTurn } from 'node:timers/promises';
import type { WatchState } from '../alerts/watch/engine/state/memory.ts';
import { restoreWatch } from '../alerts/watch/engine/restore/restore.ts';
import type { Refusal } from '../alerts/watch/life/refusal.ts';
import type { Watch } from '../alerts/watch/engine/watch.ts';
import type { Tail, TailReader } from '../collector/journal/journal.ts';
import { type QualifyState, restoreQualifyState } from '../collector/qualify/probe-record.ts';
import type { Qualify } from '../collector/qualify/qualify.ts';
import type { Applied, Store } from '../collector/store/store.ts';
import { type Hold, openHold } from './hold.ts';
import type { ActOutcome, LabChange } from './published.ts';
import { partsBelow, partsUnder } from './stored-parts.ts';
import type { Entry } from '../lab/entry.ts';
import type { Lab } from '../lab/lab.ts';
import { problemOf } from '../wax/problem-error.ts';
import type { Problem } from '../wax/result.ts';
import { firstOf, liesInEntry, rejectionFor, type SetAside, setAsideOf } from './set-aside.ts';
import {
  type Batch,
  collectChangedState,
  emptyBatch,
  isUrgent,
  type Judged,
  type JudgingParts,
  judgeMore,
  QUALIFY_PREFIX,
  UNREAD_PREFIX,
  WATCH_PREFIX,
} from './batch.ts';

/** Bytes of journal read at once: large enough to be quick, small enough for a screen to see it soon. */
const BATCH_BYTES = 256 * 1024;
/** Readings that nobody waits for are committed at the latest when there are so many. */
const MOST_HELD = 2000;
const RETRY_MILLIS = [250, 500, 1000, 2000, 5000, 10_000];

export interface PipelineParts {
  readonly watch: Watch;
  readonly qualify: Qualify;
  readonly store: Store;
  readonly reader: TailReader;
  readonly lab: () => Lab;
  readonly journalEnd: () => number;
  /** Journals entries of our own and returns the offset after them. */
  readonly append: (entries: readonly Entry[]) => Promise<number>;
  /** Rows that belong into the same transaction as the batch. */
  readonly alongside: (batch: Judged & { readonly offset: number }) => Applied['alongside'];
  readonly delay: (millis: number) => Promise<void>;
}

/** Commits of one entry alone that fail before it is set aside: a fault that passes costs no entry. */
const TRIES_ALONE = 3;
const ACT_WAITS: Refusal = { code: 'act-waits' };
const ENTRY_SET_ASIDE: Refusal = { code: 'entry-set-aside' };

export class Pipeline {
  #watchState: WatchState;
  #qualifyState: QualifyState;
  #offset: number;
  /** What another version stored, in its present form; written with the first commit. */
  #unsaved: Readonly<Record<string, unknown>>;
  #held: Batch | null = null;
  #isTimed = false;
  readonly #hold: Hold;
  /** All of it is to be committed. */
  #wantsAll = false;
  #problem: Problem | null = null;
  /** Up to here each entry is judged and committed alone: together with others one of them failed. */
  #singlyUpTo = 0;
  /** Offset of an entry whose commit failed because of what it holds, with the error. */
  #refused: { readonly from: number; readonly error: unknown; readonly tries: number } | null = null;
  #setAside: SetAside | null = null;
  #stopped = false;
  #end = (): void => {};
  readonly #ending = new Promise<void>((end) => (this.#end = end));
  #draining: Promise<void> | null = null;
  /** People who have done something and have no answer yet. */
  #asking = 0;
  /** What came of acts by their offset; kept while a caller waits, as one may be applied before its author is answered. */
  readonly #outcomes = new Map<number, ActOutcome>();
  readonly #waiting = new Map<number, (outcome: ActOutcome) => void>();
  readonly #parts: PipelineParts;
  readonly #listeners = new Set<(change: LabChange) => void>();

  constructor(parts: PipelineParts) {
    this.#parts = parts;
    this.#hold = openHold(parts.delay);
    const stored = parts.store.ruleState();
    this.#offset = parts.store.offset();
    const { state, unsaved, unread } = restoreWatch(partsBelow(WATCH_PREFIX, stored));
    this.#watchState = state;
    this.#unsaved = { ...partsUnder(WATCH_PREFIX, unsaved), ...partsUnder(UNREAD_PREFIX, unread) };
    this.#qualifyState = restoreQualifyState(partsBelow(QUALIFY_PREFIX, stored));
  }

  get watchState(): WatchState {
    return this.#watchState;
  }
  get qualifyState(): QualifyState {
    return this.#qualifyState;
  }
  get offset(): number {
    return this.#offset;
  }
  /** Why the last commit failed; null when the newest one succeeded. */
  get problem(): Problem | null {
    return this.#problem;
  }

  /** The entry that was set aside at last, since the start. */
  get setAside(): SetAside | null {
    return this.#setAside;
  }

  subscribe(listener: (change: LabChange) => void): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  publish(change: LabChange): void {
    for (const listener of this.#listeners) listener(change);
  }

  /** Works off what the journal has; called whenever it has grown. What nobody waits for may still be held after it. */
  follow(): Promise<void> {
    this.#draining ??= this.#drainAll().finally(() => {
      this.#draining = null;
    });
    return this.#draining;
  }

  /** The same until all of it is committed. */
  async drain(): Promise<void> {
    this.#wantsAll = true;
    while (this.#wantsAll && !this.#stopped) await this.follow();
  }

  /** Journals what a person did and resolves when it is committed, or why it was refused. */
  async act(entry: Entry): Promise<ActOutcome> {
    this.#asking += 1;
    try {
      const offset = await this.#parts.append([entry]);
      const decided = this.#outcomes.get(offset);
      if (decided !== undefined) return decided;
      const outcome = new Promise<ActOutcome>((done) => this.#waiting.set(offset, done));
      void this.follow();
      return await outcome;
    } finally {
      this.#asking -= 1;
      if (this.#asking === 0) this.#outcomes.clear();
    }
  }

  async stop(): Promise<void> {
    this.#stopped = true;
    this.#end();
    await this.#draining;
  }

  async #drainAll(): Promise<void> {
    let failures = 0;
    while (!this.#stopped) {
      try {
        if (this.#isDue()) {
          await this.#commit();
          this.#problem = null;
          failures = 0;
          // Requests and signals are answered between commits, however much of the journal is still to be worked off.
          if (this.#isBehind()) await nextTurn();
        } else if (this.#isBehind()) this.#judge();
        else break;
      } catch (error) {
        // Nothing is lost: the journal has it, and it is tried again from the same state.
        if (this.#held !== null && liesInEntry(error)) this.#separate(this.#held, error);
        this.#problem = problemOf(error, 'commit-failed');
        if (failures > 0) this.#answerWaiting();
        await Promise.race([this.#parts.delay(RETRY_MILLIS[failures] ?? 10_000), this.#ending]);
        failures += 1;
      }
    }
    this.#wantsAll = false;
    if (this.#held === null || this.#isTimed) return;
    this.#isTimed = true;
    void this.#hold.over().then(() => {
      this.#isTimed = false;
      return this.drain();
    });
  }

  /** Nobody waits for a disk that refuses: what was done is in the journal and takes effect later. */
  #answerWaiting(): void {
    for (const answer of this.#waiting.values()) answer({ ok: false, ...ACT_WAITS });
    this.#waiting.clear();
  }

  #isBehind(): boolean {
    return (this.#held?.offset ?? this.#offset) < this.#parts.journalEnd();
  }

  #isDue(): boolean {
    const held = this.#held;
    if (held === null) return false;
    if (held.offset <= this.#singlyUpTo) return true;
    return isUrgent(held) || held.readings.length >= MOST_HELD || (this.#wantsAll && !this.#isBehind());
  }

  #judgingParts(): JudgingParts {
    const { watch, qualify, store } = this.#parts;
    return { watch, qualify, stored: store.celsiusAt };
  }

  #judge(): void {
    const held = this.#held ?? emptyBatch(this.#watchState, this.#qualifyState, this.#offset);
    const tail = this.#parts.reader.read(held.offset, this.#parts.journalEnd(), BATCH_BYTES);
    const isSingly = held.offset < this.#singlyUpTo;
    const part = isSingly ? firstOf(tail) : tail;
    const [first] = part.entries;
    const refused = this.#refused?.from === held.offset ? this.#refused : null;
    if (first !== undefined && refused?.tries === TRIES_ALONE) {
      this.#judgeWithout(held, part, first, refused.error);
      return;
    }
    try {
      this.#held = judgeMore(held, part, this.#parts.lab(), this.#judgingParts());
    } catch (error) {
      if (first === undefined) throw error;
      const isAlone = isSingly || part.entries.length === 1;
      if (isAlone && !held.ownsStates) this.#judgeWithout(held, part, first, error);
      else {
        // What was judged before it is judged anew, from the states of the last commit.
        this.#held = null;
        this.#singlyUpTo = Math.max(this.#singlyUpTo, tail.next);
      }
    }
  }

  /** The entry is set aside; an act of a person is answered so. */
  #judgeWithout(held: Batch, part: Tail, entry: Entry, error: unknown): void {
    const setAside = setAsideOf(entry, error);
    const rejection = rejectionFor(entry, setAside, this.#parts.lab().site.id);
    const judged = judgeMore(
      held,
      { ...part, entries: [rejection] },
      this.#parts.lab(),
      this.#judgingParts(),
    );
    const isAct = entry.kind === 'act';
    if (isAct) judged.acts.set(part.next, ENTRY_SET_ASIDE);
    this.#held = judged;
    this.#setAside = setAside;
  }

  /** A commit that failed because of what an entry holds is tried again entry by entry; the one that fails is set aside. */
  #separate(held: Batch, error: unknown): void {
    this.#held = null;
    if (held.offset <= this.#singlyUpTo) {
      const before = this.#refused?.from === this.#offset ? this.#refused.tries : 0;
      // What is refused even in place of its effect lies in no entry: it is tried anew from the beginning.
      this.#refused = { from: this.#offset, error, tries: (before % TRIES_ALONE) + 1 };
    }
    this.#singlyUpTo = Math.max(this.#singlyUpTo, held.offset);
  }

  async #commit(): Promise<void> {
    const held = this.#held;
    if (held === null) return;
    await this.#parts.store.apply({
      readings: held.readings,
      ruleState: { ...this.#unsaved, ...collectChangedState(held) },
      alongside: this.#parts.alongside(held),
      // Everything here follows from the journal, which is on disk. What leaves the process is forced to disk by the
      // outbox before it leaves; the rest is when time passes.
      isRecomputable: held.tickedAt === null,
      offset: held.offset,
    });
    this.#held = null;
    this.#unsaved = {};
    this.#watchState = held.watchState;
    this.#qualifyState = held.qualifyState;
    this.#offset = held.offset;
    this.#announce(held);
  }

  #announce(judged: Judged): void {
    for (const [offset, refusal] of this.#asking > 0 ? judged.acts : []) {
      const outcome: ActOutcome = refusal === null ? { ok: true } : { ok: false, ...refusal };
      this.#outcomes.set(offset, outcome);
      this.#waiting.get(offset)?.(outcome);
      this.#waiting.delete(offset);
    }
    if (this.#listeners.size === 0) return;
    for (const change of judged.alarmChanges) this.publish({ kind: 'alarm', change });
    const probes = [...new Set(judged.readings.map(({ probe }) => probe))];
    if (probes.length > 0) this.publish({ kind: 'probes', probes });
    if (judged.statuses.size > 0) this.publish({ kind: 'statuses', statuses: [...judged.statuses.values()] });
  }
}
