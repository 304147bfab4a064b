// The database of a data folder, opened for writing; one that a newer version wrote is refused before anything is changed.

import { join } from 'node:path';
import { type LabDatabase, openDatabase } from '../../lab/database/database.ts';
import { refuseUnknownOwners } from '../../lab/database/table-owners.ts';
import { DATABASE_NAME } from './data-copy.ts';

/** @throws DatabaseRefusal */
export function openFolderDatabase(folder: string): LabDatabase {
  const database = openDatabase(join(folder, DATABASE_NAME));
  try {
    refuseUnknownOwners(database);
    return database;
  } catch (error) {
    database.close();
    throw error;
  }
}
