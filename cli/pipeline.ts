// From the journal to everything that is computed from it: qualify, rules, alarms, store, in one transaction a
// batch. It owns the only loop of the main thread; the parts that it drives are pure or stand behind interfaces.

import type { AlarmChange } from '../alerts/life/alarm.ts';
import type { Watch, WatchState } from '../alerts/watch.ts';
import type { Rejection } from '../collector/decode/rejection.ts';
import type { DamagedSpan, TailReader } from '../collector/journal/journal.ts';
import type { Qualify, QualifyState } from '../collector/qualify/qualify.ts';
import type { Applied, Store } from '../collector/store/store.ts';
import type { ActOutcome, Happening } from '../dashboard/server/running-lab.ts';
import type { Entry } from '../lab/entry.ts';
import type { Lab } from '../lab/lab.ts';
import type { Reading } from '../lab/reading.ts';
import type { EpochMillis } from '../wax/units.ts';

/** Bytes of journal in one transaction: large enough to be quick, small enough for a screen to see it soon. */
const BATCH_BYTES = 256 * 1024;
const RETRY_MILLIS = [250, 500, 1000, 2000, 5000, 10_000] as const;

export interface PipelineParts {
  readonly watch: Watch;
  readonly qualify: Qualify;
  readonly store: Store;
  readonly reader: TailReader;
  readonly lab: () => Lab;
  readonly journalEnd: () => number;
  /** Journals entries of our own and answers the offset after them. */
  readonly append: (entries: readonly Entry[]) => Promise<number>;
  /** Rows that belong into the same transaction as the batch. */
  readonly alongside: (batch: Judged) => Applied['alongside'];
  readonly delay: (millis: number) => Promise<void>;
}

/** What a batch of entries came to. */
export interface Judged {
  readonly readings: readonly Reading[];
  readonly alarmChanges: readonly AlarmChange[];
  readonly rejections: readonly Rejection[];
  readonly damaged: readonly DamagedSpan[];
  /** The refusal of each act of the batch by its offset; null when it was taken. */
  readonly acts: ReadonlyMap<number, { readonly code: string; readonly message: string } | null>;
  readonly sawTime: boolean;
  /** The newest instant at which the batch says that time passed; null when it does not. */
  readonly passed: EpochMillis | null;
}

const WATCH_PREFIX = 'watch/';
const QUALIFY_PREFIX = 'qualify/';

const partsBelow = (prefix: string, all: Readonly<Record<string, unknown>>): Record<string, unknown> =>
  Object.fromEntries(
    Object.entries(all)
      .filter(([name]) => name.startsWith(prefix))
      .map(([name, value]) => [name.slice(prefix.length), value]),
  );

export class Pipeline {
  #watchState: WatchState;
  #qualifyState: QualifyState;
  #offset: number;
  #problem: string | null = null;
  #stopped = false;
  #draining: Promise<void> | null = null;
  /** People who have done something and have no answer yet. */
  #asking = 0;
  /** What came of acts by their offset; kept while somebody asks, as one may be applied before its author hears of it. */
  readonly #outcomes = new Map<number, ActOutcome>();
  readonly #waiting = new Map<number, (outcome: ActOutcome) => void>();
  readonly #parts: PipelineParts;
  readonly #listeners = new Set<(happening: Happening) => void>();

  constructor(parts: PipelineParts) {
    this.#parts = parts;
    const kept = parts.store.ruleState();
    this.#offset = parts.store.offset();
    const watchParts = partsBelow(WATCH_PREFIX, kept);
    this.#watchState = Object.keys(watchParts).length > 0 ? watchParts : parts.watch.initial();
    this.#qualifyState = partsBelow(QUALIFY_PREFIX, kept);
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
  get problem(): string | null {
    return this.#problem;
  }

  subscribe(listener: (happening: Happening) => void): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  tell(happening: Happening): void {
    for (const listener of this.#listeners) listener(happening);
  }

  /** Works off what the journal has; called whenever it has grown. Resolves when it has caught up. */
  drain(): Promise<void> {
    this.#draining ??= this.#drainAll().finally(() => {
      this.#draining = null;
    });
    return this.#draining;
  }

  /** Journals what a person did and answers when it is committed, or why it was refused. */
  async act(entry: Entry): Promise<ActOutcome> {
    this.#asking += 1;
    try {
      const offset = await this.#parts.append([entry]);
      const known = this.#outcomes.get(offset);
      if (known !== undefined) return known;
      const outcome = new Promise<ActOutcome>((done) => this.#waiting.set(offset, done));
      void this.drain();
      return await outcome;
    } finally {
      this.#asking -= 1;
      if (this.#asking === 0) this.#outcomes.clear();
    }
  }

  async stop(): Promise<void> {
    this.#stopped = true;
    await this.#draining;
  }

  async #drainAll(): Promise<void> {
    let failures = 0;
    while (!this.#stopped && this.#offset < this.#parts.journalEnd()) {
      try {
        await this.#applyBatch();
        this.#problem = null;
        failures = 0;
      } catch (error) {
        // Nothing is lost: the journal has it, and the batch is tried again from the same state.
        this.#problem = error instanceof Error ? error.message : String(error);
        await this.#parts.delay(RETRY_MILLIS[Math.min(failures, RETRY_MILLIS.length - 1)] ?? 1000);
        failures += 1;
      }
    }
  }

  async #applyBatch(): Promise<void> {
    const tail = this.#parts.reader.read(this.#offset, this.#parts.journalEnd(), BATCH_BYTES);
    const lab = this.#parts.lab();
    let watchState = this.#watchState;
    const qualifyState: Record<string, unknown> = { ...this.#qualifyState };
    const readings: Reading[] = [];
    const alarmChanges: AlarmChange[] = [];
    const rejections: Rejection[] = [];
    const acts = new Map<number, { readonly code: string; readonly message: string } | null>();
    const changed = new Set<string>();
    let sawTime = false;
    let passed: EpochMillis | null = null;
    let run: Entry[] = [];

    const watchRun = () => {
      if (run.length === 0) return null;
      const step = this.#parts.watch.stepAll(watchState, run, lab);
      run = [];
      watchState = step.state;
      for (const part of step.changedParts) changed.add(WATCH_PREFIX + part);
      alarmChanges.push(...step.alarmChanges);
      return step;
    };

    for (const [index, raw] of tail.entries.entries()) {
      const qualified = this.#parts.qualify(qualifyState, raw, lab);
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

    const partValue = (name: string): unknown =>
      name.startsWith(WATCH_PREFIX)
        ? watchState[name.slice(WATCH_PREFIX.length)]
        : qualifyState[name.slice(QUALIFY_PREFIX.length)];
    const judged: Judged = {
      readings,
      alarmChanges,
      rejections,
      damaged: tail.damaged,
      acts,
      sawTime,
      passed,
    };
    await this.#parts.store.apply({
      readings,
      ruleState: Object.fromEntries([...changed].map((name) => [name, partValue(name)])),
      alongside: this.#parts.alongside(judged),
      // Everything here follows from the journal, which is on disk. What leaves the house is forced to disk by the
      // outbox before it leaves; the rest is when time passes.
      isRecomputable: !sawTime,
      offset: tail.next,
    });
    this.#watchState = watchState;
    this.#qualifyState = qualifyState;
    this.#offset = tail.next;
    this.#announce(judged, lab);
  }

  #announce(judged: Judged, lab: Lab): void {
    for (const [offset, refusal] of this.#asking > 0 ? judged.acts : []) {
      const outcome: ActOutcome = refusal === null ? { ok: true } : { ok: false, ...refusal };
      this.#outcomes.set(offset, outcome);
      this.#waiting.get(offset)?.(outcome);
      this.#waiting.delete(offset);
    }
    if (this.#listeners.size === 0) return;
    for (const change of judged.alarmChanges) this.tell({ kind: 'alarm', change });
    const probes = new Set(judged.readings.map((reading) => reading.probe));
    for (const probe of probes) this.tell({ kind: 'probe', probe });
    const stations = judged.sawTime
      ? lab.stations.map((station) => station.id)
      : [...new Set(lab.probes.filter((probe) => probes.has(probe.id)).map((probe) => probe.station))].filter(
          (station) => station !== null,
        );
    if (stations.length > 0) this.tell({ kind: 'standings', stations });
  }
}
