// The database of a data folder, opened to read its readings, also beside a program that writes.

import { join } from 'node:path';
import { type Connection, hasTable, readDatabase } from '../../lab/database/database.ts';
import { DATABASE_NAME } from '../data/data-copy.ts';
import { VerbRefusal } from './verb.ts';

/** @throws DatabaseRefusal; VerbRefusal where no program or an earlier version was started on it last */
export function readFolder(folder: string): Connection {
  const file = join(folder, DATABASE_NAME);
  const connection = readDatabase(file);
  if (hasTable(connection, 'reading_pack')) return connection;
  connection.close();
  throw new VerbRefusal(
    `${file} holds no readings in the form of this version: start the program on it once`,
  );
}
