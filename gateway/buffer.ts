// What was measured and not yet acknowledged by the broker, on disk: a power cut loses nothing that was measured. Each
// sweep has a number that is never used again, so that whoever receives them can prove that none is missing; the buffer
// has an id, so that a board that was set up anew and counts from 1 again is not taken for one that sends its past.

import { randomBytes } from 'node:crypto';
import { existsSync, renameSync } from 'node:fs';
import Database from 'better-sqlite3';
import type { Sample } from './sample.ts';

export interface Waiting {
  /** Number of the sweep, from 1 on; null where the disk did not take it, so that it is sent now or not at all. */
  readonly sequence: number | null;
  readonly samples: readonly Sample[];
  /** Whether the clock of this machine was set by the network when they were measured. */
  readonly isClockSet: boolean;
}

/** On disk. */
export type StoredSweep = Waiting & { readonly sequence: number };

interface Row {
  readonly sequence: number;
  readonly samples: string;
  readonly is_clock_set: number;
}

const storedSweepOf = ({ sequence, samples, is_clock_set }: Row): StoredSweep => ({
  sequence,
  samples: JSON.parse(samples) as readonly Sample[],
  isClockSet: is_clock_set === 1,
});

const ID_BYTES = 8;

export class SampleBuffer {
  readonly #database: Database.Database;
  /** Whose numbers the sweeps bear. */
  readonly id: string;

  /**
   * `file` may be `:memory:`.
   * @throws SqliteError, also of a file whose pages contradict each other
   */
  constructor(file: string) {
    this.#database = new Database(file);
    try {
      this.id = this.#begin();
    } catch (error) {
      this.#database.close();
      throw error;
    }
  }

  #begin(): string {
    if (this.#database.pragma('quick_check(1)', { simple: true }) !== 'ok')
      throw new Database.SqliteError('the pages contradict each other', 'SQLITE_CORRUPT');
    this.#database.pragma('journal_mode = WAL');
    this.#database.pragma('synchronous = FULL');
    this.#database.exec(
      `CREATE TABLE IF NOT EXISTS waiting (sequence INTEGER PRIMARY KEY AUTOINCREMENT, at INTEGER NOT NULL,
         samples TEXT NOT NULL, is_clock_set INTEGER NOT NULL);
       CREATE TABLE IF NOT EXISTS buffer (id TEXT NOT NULL)`,
    );
    return this.#database.transaction(() => this.#ownId())();
  }

  #ownId(): string {
    const before = this.#database.prepare<[], string>('SELECT id FROM buffer').pluck().get();
    if (before !== undefined) return before;
    const id = randomBytes(ID_BYTES).toString('hex');
    this.#database.prepare('INSERT INTO buffer (id) VALUES (?)').run(id);
    return id;
  }

  /** Returns the number of the sweep. */
  add(samples: readonly Sample[], at: number, isClockSet: boolean): number {
    const { lastInsertRowid } = this.#database
      .prepare('INSERT INTO waiting (at, samples, is_clock_set) VALUES (?, ?, ?)')
      .run(at, JSON.stringify(samples), isClockSet ? 1 : 0);
    return Number(lastInsertRowid);
  }

  /** Oldest first, without those that are on their way. */
  oldest(count: number, onTheirWay: ReadonlySet<number>): readonly StoredSweep[] {
    return this.#database
      .prepare<[number], Row>('SELECT sequence, samples, is_clock_set FROM waiting ORDER BY sequence LIMIT ?')
      .all(count + onTheirWay.size)
      .filter(({ sequence }) => !onTheirWay.has(sequence))
      .slice(0, count)
      .map(storedSweepOf);
  }

  acknowledged(sequences: readonly number[]): void {
    const remove = this.#database.prepare('DELETE FROM waiting WHERE sequence = ?');
    this.#database.transaction(() => {
      for (const sequence of sequences) remove.run(sequence);
    })();
  }

  /** Moves what was measured from `fromSequence` on while the clock was not set: it has been set now. */
  clockWasSet(fromSequence: number, byMillis: number): void {
    const rows = this.#database
      .prepare<[number], Row>(
        'SELECT sequence, samples, is_clock_set FROM waiting WHERE sequence >= ? AND is_clock_set = 0',
      )
      .all(fromSequence);
    const update = this.#database.prepare(
      'UPDATE waiting SET samples = ?, at = at + ?, is_clock_set = 1 WHERE sequence = ?',
    );
    this.#database.transaction(() => {
      for (const { sequence, samples } of rows.map(storedSweepOf))
        update.run(
          JSON.stringify(samples.map((sample) => ({ ...sample, at: sample.at + byMillis }))),
          byMillis,
          sequence,
        );
    })();
  }

  /** Deletes what is beyond the newest `most` sweeps and returns how many that were. */
  dropBeyond(most: number): number {
    return this.#database
      .prepare('DELETE FROM waiting WHERE sequence <= (SELECT max(sequence) FROM waiting) - ?')
      .run(most).changes;
  }

  get size(): number {
    return this.#database.prepare<[], number>('SELECT count(*) FROM waiting').pluck().get() ?? 0;
  }

  close(): void {
    this.#database.close();
  }
}

/** SQLite (result codes): no database, or one whose pages contradict each other, as a card leaves it that lost power. */
const BROKEN = /^SQLITE_(NOTADB|CORRUPT)/;

/** Opens the buffer of a file. One that is broken is set aside, for nothing else makes the gateway measure again. */
export function openBuffer(file: string, log: (line: string) => void): SampleBuffer {
  try {
    return new SampleBuffer(file);
  } catch (error) {
    if (!BROKEN.test(String(Object(error).code))) throw error;
    for (const part of ['', '-wal', '-shm'])
      if (existsSync(file + part)) renameSync(file + part, `${file}.broken${part}`);
    log(`${file} is broken and was renamed to ${file}.broken: what waited in it is not sent`);
    return new SampleBuffer(file);
  }
}
