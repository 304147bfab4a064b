// A copy of a data folder in one file, and a data folder from it. The journal is no part of it: what is in it and not
// yet in the database is the last second of a running program.

import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { checkSeries } from '../../collector/store/verify-series.ts';
import { DatabaseRefusal, hasTable, readDatabase, refusalOf } from '../../lab/database/database.ts';
import { type CarriedFile, copyDatabase, restoreDatabase } from '../../lab/database/database-copy.ts';
import { writeDurably } from '../../lab/database/durable-file.ts';
import { ProblemError } from '../../wax/problem-error.ts';

export const DATABASE_NAME = 'waxwarden.db';
/** What is being written, or is of the moment, such as sessions of the broker. */
const LEFT_OUT = /^(waxwarden\.db.*|sessions\.db.*|journal|.*\.lock(-journal)?|.*\.pid|.*\.partial)$/;
/** Wherever it lies: a copy that was put into the folder would go into every later one. */
const IS_DATABASE = /\.db(-wal|-shm)?$/;
/** Keys and logins are small; whatever is larger is none. */
const MOST_BYTES = 1024 * 1024;

/** Logins, keys and certificates that lie beside the database. */
function smallFiles(folder: string, below = ''): readonly CarriedFile[] {
  return readdirSync(join(folder, below), { withFileTypes: true }).flatMap(
    (entry): readonly CarriedFile[] => {
      const name = below === '' ? entry.name : `${below}/${entry.name}`;
      if ((below === '' && LEFT_OUT.test(entry.name)) || IS_DATABASE.test(entry.name)) return [];
      if (entry.isDirectory()) return smallFiles(folder, name);
      const bytes = entry.isFile() ? readFileSync(join(folder, name)) : new Uint8Array();
      return bytes.length === 0 || bytes.length > MOST_BYTES ? [] : [{ name, bytes }];
    },
  );
}

/**
 * Copies what lies in the data folder to `target`, while the program runs. Damaged readings are not copied: a copy with them
 * would not be restored, and daily ones would soon stand in for all that are sound.
 * @throws DamagedReadings
 */
export function copyData(folder: string, target: string): void {
  const file = join(folder, DATABASE_NAME);
  const connection = readDatabase(file);
  try {
    // An empty file is a sound database too, and would take the place of a copy that is none.
    if (!hasTable(connection, 'migration'))
      throw new DatabaseRefusal('database-corrupt', { file, reason: 'it is none of this program' });
    checkSeries(connection);
  } catch (error) {
    throw refusalOf(error, file);
  } finally {
    connection.close();
  }
  copyDatabase(file, target, existsSync(folder) ? smallFiles(folder) : []);
}

/** Makes a data folder from a copy; one that has a database, or files of another one, is refused. */
export function restoreData(copy: string, folder: string): void {
  restoreDatabase(copy, join(folder, DATABASE_NAME), (files) => {
    for (const { name, bytes } of files) {
      if (LEFT_OUT.test(name)) continue;
      const file = join(folder, ...name.split('/').filter((part) => part !== '..'));
      if (!existsSync(file)) writeDurably(file, bytes);
      else if (!readFileSync(file).equals(bytes))
        throw new ProblemError('data-folder-not-usable', { folder, reason: `another ${name} lies in it` });
    }
  });
}
