// Copies of the database, made while another process or thread writes it: one snapshot in one file, without the space
// that is unused, checked, forced to disk and only then renamed. Small files can ride in the copy, so that one file
// brings everything back.

import { chmodSync, existsSync, renameSync, rmSync, statSync } from 'node:fs';
import { dirname, resolve } from 'node:path';
import BetterSqlite3 from 'better-sqlite3';
import { DatabaseRefusal, faultsOf, hasTable, readDatabase, refusalOf } from './database.ts';
import { forceToDisk, makeFolder } from './durable-file.ts';

export interface CarriedFile {
  /** Relative to the data folder, with `/` between its parts. */
  readonly name: string;
  readonly bytes: Uint8Array;
}

/**
 * Copies the database `file` to `target`. Blocks its thread until it is done; whoever writes the database does not wait.
 * @throws DatabaseRefusal when the source is no sound database, or the target cannot be written.
 */
export function copyDatabase(file: string, target: string, carried: readonly CarriedFile[] = []): void {
  const path = resolve(target);
  const partial = `${path}.partial`;
  try {
    makeFolder(dirname(path));
    removePartial(partial);
    const source = readDatabase(file);
    try {
      source.prepare<[string]>('VACUUM INTO ?').run(partial);
    } finally {
      source.close();
    }
    chmodSync(partial, 0o600);
    const copy = new BetterSqlite3(partial);
    try {
      // A single file without a log beside it, so that it can be carried away.
      copy.pragma('journal_mode = DELETE');
      carry(copy, carried);
      const faults = faultsOf(copy);
      if (faults.length > 0)
        throw new DatabaseRefusal('database-corrupt', { file: partial, reason: faults.join('; ') });
    } finally {
      copy.close();
    }
    putInPlace(partial, path);
  } catch (error) {
    removePartial(partial);
    throw refusalOf(error, path);
  }
}

/** Whether a copy may take the place of what is at `target`: nothing, an empty file, or an earlier copy. */
export function mayReplace(target: string, database: string): boolean {
  if (!existsSync(target)) return true;
  const [there, own] = [statSync(target), existsSync(database) ? statSync(database) : null];
  if (!there.isFile() || (there.dev === own?.dev && there.ino === own.ino)) return false;
  if (there.size === 0) return true;
  try {
    const copy = readDatabase(target);
    try {
      return hasTable(copy, 'carried_file');
    } finally {
      copy.close();
    }
  } catch {
    return false;
  }
}

function carry(copy: BetterSqlite3.Database, files: readonly CarriedFile[]): void {
  // Somebody may have put a copy in place by hand.
  copy.exec('DROP TABLE IF EXISTS carried_file');
  copy.exec('CREATE TABLE carried_file (name TEXT PRIMARY KEY, bytes BLOB NOT NULL) WITHOUT ROWID');
  const add = copy.prepare<[string, Uint8Array]>('INSERT INTO carried_file VALUES (?, ?)');
  copy.transaction(() => {
    for (const { name, bytes } of files) add.run(name, bytes);
  })();
}

/**
 * Makes `target` from a copy. `place` gets what rode in it, before the database is at `target`: whatever ends it on the
 * way, there is no database without its keys, and it can be restored anew. Nothing is at `target` when it throws.
 * @throws DatabaseRefusal when the copy is damaged, or there is something at `target` already.
 */
export function restoreDatabase(
  copy: string,
  target: string,
  place: (files: readonly CarriedFile[]) => void,
): void {
  const path = resolve(target);
  // The log of another database would be taken for one of this.
  if ([path, `${path}-wal`].some((file) => existsSync(file)))
    throw new DatabaseRefusal('database-in-place', { file: path });
  const partial = `${path}.partial`;
  try {
    makeFolder(dirname(path));
    removePartial(partial);
    const source = readDatabase(copy);
    try {
      const faults = faultsOf(source);
      if (faults.length > 0)
        throw new DatabaseRefusal('database-corrupt', { file: copy, reason: faults.join('; ') });
      source.prepare<[string]>('VACUUM INTO ?').run(partial);
    } finally {
      source.close();
    }
    chmodSync(partial, 0o600);
    const restored = new BetterSqlite3(partial);
    try {
      place(
        hasTable(restored, 'carried_file')
          ? restored.prepare<[], CarriedFile>('SELECT name, bytes FROM carried_file').all()
          : [],
      );
      restored.exec('DROP TABLE IF EXISTS carried_file');
      if (restored.pragma('auto_vacuum', { simple: true }) === 0) {
        // An earlier version made the file; from now on it can give unused space back to the disk.
        restored.pragma('auto_vacuum = INCREMENTAL');
        restored.exec('VACUUM');
      }
    } finally {
      restored.close();
    }
    putInPlace(partial, path);
  } catch (error) {
    removePartial(partial);
    throw refusalOf(error, path);
  }
}

/** With the journal that a killed copy may have left. */
function removePartial(partial: string): void {
  for (const file of [partial, `${partial}-journal`]) rmSync(file, { force: true });
}

function putInPlace(partial: string, path: string): void {
  forceToDisk(partial);
  renameSync(partial, path);
  forceToDisk(dirname(path));
}
