// The single door to SQLite: one writing connection, read-only connections beside it, numbered migrations for
// each owner of tables, and transactions. It reads no table but the list of migrations.
// A file that cannot serve is refused with a DatabaseRefusal; the causes are listed in docs/errors.md.

import { chmodSync, existsSync, statfsSync } from 'node:fs';
import { dirname, resolve } from 'node:path';
import BetterSqlite3 from 'better-sqlite3';
import { errorCode, ProblemError, reasonOf } from '../../wax/problem-error.ts';
import { forceToDisk, makeFolder } from './durable-file.ts';

/** One connection; statements are prepared on it. */
export type Connection = BetterSqlite3.Database;

export type DatabaseRefusalCode =
  | 'database-not-writable'
  | 'database-newer'
  | 'database-corrupt'
  | 'database-busy'
  | 'database-full'
  | 'database-in-place'
  | 'database-missing';

/** Thrown when the database cannot serve; `code` has a row in docs/errors.md, the driver's error is the cause. */
export class DatabaseRefusal extends ProblemError<DatabaseRefusalCode> {}

export interface LabDatabase {
  readonly file: string;
  /** The one connection that writes. Only the thread that opened it may use it. */
  readonly writer: Connection;
  /**
   * Brings the tables of one owner up to date: step 1 is the first of `steps`, SQL text, and a step that ran once
   * never runs again, so steps are only ever appended. All missing steps run in one transaction.
   */
  readonly migrate: (owner: string, steps: readonly string[]) => void;
  /** Runs `work` in one write transaction (a savepoint when inside another); a throw undoes all of it. */
  readonly transaction: <T>(work: () => T) => T;
  /**
   * The same without waiting for the disk: a power cut may undo it, a crash of the process cannot. For what is
   * computed again from the journal; the next `transaction` forces it to disk too, so nothing is undone out of order.
   */
  readonly recomputable: <T>(work: () => T) => T;
  /**
   * Runs a write that may be left out, such as when somebody was last seen: what the disk refuses is not written, and
   * whoever only reads goes on. False when it was refused.
   */
  readonly writeIfPossible: (work: () => void) => boolean;
  /**
   * Runs `work` when the outermost transaction has ended, committed or undone; at once when there is none. For
   * those who remember what they read, or pass it on.
   */
  readonly afterTransaction: (work: () => void) => void;
  /** A read-only connection of its own: it neither blocks the writer nor sees what is not committed. */
  readonly reader: () => Connection;
  /**
   * Gives about so many unused bytes back to the disk, those at the end of the file first, and returns whether more
   * are left to give back. Files that an earlier version made keep theirs and use them again.
   */
  readonly shrink: (bytes: number) => boolean;
  /** Empty when the file is sound; else what SQLite's own check found, at most ten lines. */
  readonly faults: () => readonly string[];
  readonly close: () => void;
}

/** How long a connection waits for another process's lock before it gives up. */
const BUSY_MILLIS = 5000;
/** Pages of 4 kB in the write-ahead log before they are copied back: 16 MB. */
const LOG_PAGES = 4000;
/** The write-ahead log is cut back to this after a checkpoint that a long reader held up. */
const LOG_LIMIT_BYTES = 64 * 1024 * 1024;

export function openDatabase(file: string): LabDatabase {
  const path = resolve(file);
  const writer = openWriter(path);
  const readers: Connection[] = [];
  const inTransaction = writer.transaction((work: () => unknown) => work());
  let afterwards: (() => void)[] = [];
  const transaction = <T>(work: () => T): T => {
    try {
      return inTransaction.immediate(work) as T;
    } catch (error) {
      throw refusalOf(error, path);
    } finally {
      if (!writer.inTransaction) {
        const due = afterwards;
        afterwards = [];
        for (const work of due) work();
      }
    }
  };
  const recomputable = <T>(work: () => T): T => {
    if (writer.inTransaction) return transaction(work);
    writer.pragma('synchronous = NORMAL');
    try {
      return transaction(work);
    } finally {
      writer.pragma('synchronous = FULL');
    }
  };
  return {
    file: path,
    writer,
    migrate: (owner, steps) => migrate(writer, transaction, path, owner, steps),
    transaction,
    recomputable,
    writeIfPossible: (work) => {
      try {
        work();
        return true;
      } catch (error) {
        if (databaseRefusal(error, path) === null) throw error;
        return false;
      }
    },
    afterTransaction: (work) => {
      if (writer.inTransaction) afterwards.push(work);
      else work();
    },
    reader: () => {
      const reader = new BetterSqlite3(path, { readonly: true, fileMustExist: true, timeout: BUSY_MILLIS });
      readers.push(reader);
      return reader;
    },
    shrink: (bytes) => shrink(writer, bytes),
    faults: () => faultsOf(writer),
    close: () => {
      for (const reader of readers) reader.close();
      writer.close();
    },
  };
}

/** A connection that only reads, also beside a program that writes. @throws DatabaseRefusal */
export function readDatabase(file: string): Connection {
  if (!existsSync(file)) throw new DatabaseRefusal('database-missing', { file });
  let connection: Connection | null = null;
  try {
    connection = new BetterSqlite3(resolve(file), {
      readonly: true,
      fileMustExist: true,
      timeout: BUSY_MILLIS,
    });
    // Opened in earnest by the first reading, which a folder that cannot be written may refuse.
    connection.pragma('schema_version');
    return connection;
  } catch (error) {
    connection?.close();
    throw refusalOf(error, file);
  }
}

export const hasTable = (connection: Connection, name: string): boolean =>
  connection.prepare("SELECT 1 FROM sqlite_master WHERE type = 'table' AND name = ?").get(name) !== undefined;

function openWriter(path: string): Connection {
  try {
    makeFolder(dirname(path));
    const isNew = !existsSync(path);
    const writer = new BetterSqlite3(path, { timeout: BUSY_MILLIS });
    try {
      // Names, sessions and keys lie in it; the log beside it takes over the mode.
      if (isNew) {
        chmodSync(path, 0o600);
        forceToDisk(dirname(path));
        // Only before the first table: lets space go back to the disk without writing the whole file anew.
        writer.pragma('auto_vacuum = INCREMENTAL');
      }
      writer.pragma('journal_mode = WAL');
      // The driver's default for WAL is NORMAL, which may lose the last commits on a power cut.
      writer.pragma('synchronous = FULL');
      writer.pragma('foreign_keys = ON');
      // Copying the log back costs a forced write of the file itself; batches of many probes touch many pages.
      writer.pragma(`wal_autocheckpoint = ${LOG_PAGES}`);
      writer.pragma(`journal_size_limit = ${LOG_LIMIT_BYTES}`);
      writer.exec(
        'CREATE TABLE IF NOT EXISTS migration (owner TEXT NOT NULL, number INTEGER NOT NULL, ran_at TEXT NOT NULL, PRIMARY KEY (owner, number)) WITHOUT ROWID',
      );
      return writer;
    } catch (error) {
      writer.close();
      throw error;
    }
  } catch (error) {
    throw refusalOf(error, path);
  }
}

function migrate(
  writer: Connection,
  transaction: LabDatabase['transaction'],
  path: string,
  owner: string,
  steps: readonly string[],
): void {
  const done = writer
    .prepare<[string], number | null>('SELECT max(number) FROM migration WHERE owner = ?')
    .pluck()
    .get(owner);
  const from = done ?? 0;
  if (from > steps.length) throw new DatabaseRefusal('database-newer', { file: path, owner });
  if (from === steps.length) return;
  const record = writer.prepare("INSERT INTO migration VALUES (?, ?, strftime('%Y-%m-%dT%H:%M:%fZ'))");
  transaction(() => {
    for (const [index, step] of steps.slice(from).entries()) {
      writer.exec(step);
      record.run(owner, from + index + 1);
    }
  });
}

/** A quarter of the file may be unused: it will be used again. */
const UNUSED_SHARE = 0.25;

function shrink(writer: Connection, bytes: number): boolean {
  const number = (name: string): number => Number(writer.pragma(name, { simple: true }));
  if (number('auto_vacuum') === 0) return false;
  const unused = number('freelist_count');
  if (unused <= number('page_count') * UNUSED_SHARE) return false;
  // Executed as text it is stepped to its end; one step frees one page.
  writer.exec(`PRAGMA incremental_vacuum(${Math.ceil(bytes / number('page_size'))})`);
  return number('freelist_count') < unused;
}

/** Empty when the file behind the connection is sound. */
export function faultsOf(connection: Connection): readonly string[] {
  try {
    const lines = connection.prepare<[], string>('PRAGMA integrity_check(10)').pluck().all();
    return lines.length === 1 && lines[0] === 'ok' ? [] : lines;
  } catch (error) {
    // Where the damage is too deep the check itself gives up.
    return [reasonOf(error)];
  }
}

/** Errors by the first words of SQLite's or the system's code, so that SQLITE_IOERR_WRITE counts as its family. */
const REFUSALS: readonly (readonly [prefix: string, code: DatabaseRefusalCode])[] = [
  ['SQLITE_NOTADB', 'database-corrupt'],
  ['SQLITE_CORRUPT', 'database-corrupt'],
  ['SQLITE_FULL', 'database-full'],
  ['ENOSPC', 'database-full'],
  ['SQLITE_BUSY', 'database-busy'],
  ['SQLITE_READONLY', 'database-not-writable'],
  ['SQLITE_CANTOPEN', 'database-not-writable'],
  ['SQLITE_IOERR', 'database-not-writable'],
  ['EACCES', 'database-not-writable'],
  ['EPERM', 'database-not-writable'],
  ['EROFS', 'database-not-writable'],
  ['ENOTDIR', 'database-not-writable'],
  ['EEXIST', 'database-not-writable'],
];

/** The error of the driver or the system, as a refusal; any other error as it is. */
export const refusalOf = (error: unknown, path: string): unknown => databaseRefusal(error, path) ?? error;

/** The refusal that an error of the driver or the disk stands for; null for any other error. */
export function databaseRefusal(error: unknown, path: string): DatabaseRefusal | null {
  if (error instanceof DatabaseRefusal) return error;
  if (!(error instanceof Error)) return null;
  const code = String(errorCode(error) ?? '');
  const refused =
    REFUSALS.find(([prefix]) => code.startsWith(prefix))?.[1] ??
    // The driver refuses a missing folder without a code.
    (error instanceof TypeError && error.message.includes('directory does not exist')
      ? 'database-not-writable'
      : undefined);
  // A full disk is met in many ways, such as the file that readers share; what is wrong is reported in one.
  if (refused === 'database-not-writable' && isDiskFull(path))
    return new DatabaseRefusal('database-full', { file: path, reason: error.message }, error);
  return refused === undefined
    ? null
    : new DatabaseRefusal(refused, { file: path, reason: error.message }, error);
}

function isDiskFull(path: string): boolean {
  try {
    return statfsSync(dirname(path)).bavail === 0;
  } catch {
    return false;
  }
}
