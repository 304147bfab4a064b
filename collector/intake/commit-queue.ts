// Messages between arrival and acknowledgement. All that wait share the next commit of the journal, in their
// order; while the disk refuses, they wait and are tried again, and none is acknowledged.

import type { Entry } from '../../lab/entry.ts';
import { FrameBuffer } from '../journal/frame.ts';
import type { Journal } from '../journal/journal.ts';
import type { JournalFailure } from '../journal/journal-failure.ts';

interface Waiting {
  readonly weight: number;
  readonly committed: () => void;
}

export interface CommitQueueOptions {
  readonly journal: Journal;
  /** Called after each commit, when its messages have been acknowledged. */
  readonly onCommit: () => void;
  /** The problem while the journal refuses; null once it takes entries again. */
  readonly onTrouble: (problem: JournalFailure | null) => void;
  readonly delay: (millis: number) => Promise<void>;
  /** Readings that may wait; the broker is held back beyond. About 10 MB. */
  readonly capacity?: number;
}

const CAPACITY = 50_000;
const RETRY_MILLIS = [250, 500, 1000, 2000, 5000] as const;

const weightOf = (entries: readonly Entry[]): number =>
  entries.reduce((sum, entry) => sum + (entry.kind === 'readings' ? entry.readings.length : 1), 1);

export class CommitQueue {
  readonly #options: CommitQueueOptions;
  #waiting: Waiting[] = [];
  /** The entries of those that wait. */
  readonly #frames = new FrameBuffer();
  #weight = 0;
  #working: Promise<void> | null = null;
  #wantRoom: (() => void)[] = [];

  constructor(options: CommitQueueOptions) {
    this.#options = options;
  }

  /** `committed` is called once the entries are on disk, in the order of `add`. */
  add(entries: readonly Entry[], committed: () => void): void {
    const weight = weightOf(entries);
    for (const entry of entries) this.#frames.add(entry);
    this.#waiting.push({ weight, committed });
    this.#weight += weight;
    this.#working ??= this.#work();
  }

  get isFull(): boolean {
    return this.#weight >= (this.#options.capacity ?? CAPACITY);
  }

  /** Resolves when there is space again. */
  whenFree(): Promise<void> {
    return this.isFull ? new Promise((resolve) => this.#wantRoom.push(resolve)) : Promise.resolve();
  }

  /** Resolves when nothing waits. */
  async idle(): Promise<void> {
    await this.#working;
  }

  async #work(): Promise<void> {
    // One turn of the event loop, so that all messages of one network read share the commit.
    await new Promise(setImmediate);
    while (this.#waiting.length > 0) {
      const group = this.#waiting;
      this.#waiting = [];
      if (!this.#frames.isEmpty) await this.#commit(this.#frames.take());
      for (const { weight, committed } of group) {
        this.#weight -= weight;
        committed();
      }
      this.#options.onCommit();
      if (!this.isFull) for (const resolve of this.#wantRoom.splice(0)) resolve();
    }
    // In the same step as the last look, so that whatever is added from now on begins anew.
    this.#working = null;
  }

  async #commit(frames: Buffer): Promise<void> {
    for (let failures = 0; ; failures += 1) {
      try {
        await this.#options.journal.appendFrames(frames);
        if (failures > 0) this.#options.onTrouble(null);
        return;
      } catch (error) {
        // `appendFrames` rejects with nothing else.
        this.#options.onTrouble(error as JournalFailure);
        await this.#options.delay(RETRY_MILLIS[Math.min(failures, RETRY_MILLIS.length - 1)] ?? 5000);
      }
    }
  }
}
