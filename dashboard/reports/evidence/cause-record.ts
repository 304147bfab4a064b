// Cause and correction of an excursion, signed by a person and kept for ever. A later record supersedes an earlier one,
// which stays to be read.

import type { LabDatabase } from '../../../lab/database/database.ts';
import type { EpochMillis } from '../../../wax/units.ts';
import type { CauseRecord } from '../../api/evidence.ts';

const STEPS = [
  `CREATE TABLE excursion_cause (number INTEGER PRIMARY KEY, alarm TEXT NOT NULL, at INTEGER NOT NULL, by TEXT NOT NULL,
     cause TEXT NOT NULL, correction TEXT NOT NULL);
   CREATE INDEX excursion_cause_alarm ON excursion_cause (alarm, number);
   CREATE TRIGGER excursion_cause_stays BEFORE UPDATE ON excursion_cause
     BEGIN SELECT raise(ABORT, 'a signed cause is never changed'); END;
   CREATE TRIGGER excursion_cause_is_kept BEFORE DELETE ON excursion_cause
     BEGIN SELECT raise(ABORT, 'a signed cause is never deleted'); END;`,
];

export interface CauseRecords {
  /** Oldest first. */
  readonly of: (alarm: string) => readonly CauseRecord[];
  readonly sign: (alarm: string, signed: Omit<CauseRecord, 'at'> & { readonly at: EpochMillis }) => void;
}

export const openCauseRecords = (database: LabDatabase): CauseRecords => {
  database.migrate('excursion causes', STEPS);
  const all = database.writer.prepare<[string], Omit<CauseRecord, 'at'> & { readonly at: number }>(
    'SELECT cause, correction, by, at FROM excursion_cause WHERE alarm = ? ORDER BY number',
  );
  const add = database.writer.prepare(
    'INSERT INTO excursion_cause (alarm, at, by, cause, correction) VALUES (?, ?, ?, ?, ?)',
  );
  return {
    of: (alarm) => all.all(alarm).map((row) => ({ ...row, at: new Date(row.at).toISOString() })),
    sign: (alarm, { at, by, cause, correction }) => void add.run(alarm, at, by, cause, correction),
  };
};
