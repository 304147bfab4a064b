// Which copies of the data were made, and what became of the newest attempt: so that people see how old the last
// one is.

import type { LabDatabase } from './database.ts';
import { type EpochMillis, MILLIS_PER_DAY } from '../../wax/units.ts';

const STEPS = [
  `CREATE TABLE data_copy (at INTEGER PRIMARY KEY, file TEXT NOT NULL, bytes INTEGER, fault TEXT);`,
];

export interface DataCopy {
  readonly at: EpochMillis;
  readonly file: string;
  /** Null where it failed. */
  readonly bytes: number | null;
  /** Why it failed; null where it did not. */
  readonly fault: string | null;
}

export interface CopyRecord {
  /** Those of later instants are forgotten: the clock ran ahead when they were made, and they would count as the newest. */
  readonly add: (copy: DataCopy) => void;
  /** Newest first. */
  readonly newest: (limit: number) => readonly DataCopy[];
  /** The newest one that succeeded; null when there never was one. */
  readonly lastGood: () => DataCopy | null;
}

const KEPT_MILLIS = 400 * MILLIS_PER_DAY;

export function openCopyRecord(database: LabDatabase): CopyRecord {
  database.migrate('lab/copies', STEPS);
  const { writer } = database;
  const add = writer.prepare<[number, string, number | null, string | null]>(
    'INSERT OR REPLACE INTO data_copy VALUES (?, ?, ?, ?)',
  );
  const forget = writer.prepare<[number, number]>('DELETE FROM data_copy WHERE at < ? OR at > ?');
  const newest = writer.prepare<[number], DataCopy>('SELECT * FROM data_copy ORDER BY at DESC LIMIT ?');
  const lastGood = writer.prepare<[], DataCopy>(
    'SELECT * FROM data_copy WHERE fault IS NULL ORDER BY at DESC LIMIT 1',
  );
  return {
    add: ({ at, file, bytes, fault }) =>
      database.transaction(() => {
        add.run(at, file, bytes, fault);
        forget.run(at - KEPT_MILLIS, at);
      }),
    newest: (limit) => newest.all(limit),
    lastGood: () => lastGood.get() ?? null,
  };
}
