// Keeps a second process off a folder: two writers would overwrite each other's entries. The lock is an exclusive
// transaction of SQLite that is held open, so the kernel frees it with its process, however that ends; a process id
// in a file would outlive a power cut, be used again, and mean nothing in another container.

import { join } from 'node:path';
import BetterSqlite3 from 'better-sqlite3';
import { ProblemError } from '../../wax/problem-error.ts';
import { makeFolder } from './durable-file.ts';

class FolderLockRefusal extends ProblemError<'data-folder-in-use' | 'data-folder-not-usable'> {}

/** Of a process that is ending while its successor starts. */
const WAIT_MILLIS = 1000;

/**
 * Makes the folder where it is missing and takes it for this process; returns the function that gives it free.
 * Nothing is written, so that it holds on a full disk too.
 */
export function lockFolder(folder: string): () => void {
  try {
    makeFolder(folder);
    const lock = new BetterSqlite3(join(folder, 'in-use.lock'), { timeout: WAIT_MILLIS });
    try {
      // Nothing is ever written: a journal file would need room on the disk.
      lock.pragma('journal_mode = MEMORY');
      lock.exec('BEGIN EXCLUSIVE');
    } catch (error) {
      lock.close();
      throw error;
    }
    return () => lock.close();
  } catch (error) {
    const { code, message } = error as NodeJS.ErrnoException;
    if (code === 'SQLITE_BUSY') throw new FolderLockRefusal('data-folder-in-use', { folder }, error);
    throw new FolderLockRefusal('data-folder-not-usable', { folder, reason: code ?? message }, error);
  }
}
