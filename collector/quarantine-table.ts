// The quarantine in the database. Rows are kept in memory too, so that a flood of bad messages costs one write a
// row and batch.

import type { Connection, LabDatabase } from '../lab/database/database.ts';
import type { ProblemValues } from '../wax/result.ts';
import type { Rejection } from './decode/rejection.ts';
import { type QuarantineRow, quarantineFrom, quarantineStep } from './quarantine.ts';

const STEPS = [
  `CREATE TABLE quarantine (
     topic TEXT NOT NULL, code TEXT NOT NULL, reason TEXT NOT NULL, count INTEGER NOT NULL,
     first_at INTEGER NOT NULL, last_at INTEGER NOT NULL, sample BLOB NOT NULL, bytes INTEGER NOT NULL,
     PRIMARY KEY (topic, code)
   ) WITHOUT ROWID;`,
  // The reason of a row since then is its code with these; an older row keeps its sentence.
  `ALTER TABLE quarantine ADD COLUMN problem_values TEXT;
   ALTER TABLE quarantine ADD COLUMN offending TEXT;`,
];

interface StoredRow extends Omit<QuarantineRow, 'values' | 'reason' | 'offending'> {
  readonly reason: string;
  /** JSON. */
  readonly problemValues: string | null;
  readonly offending: string | null;
}
const ROWS = `SELECT topic, code, reason, count, first_at AS firstAt, last_at AS lastAt, sample, bytes,
  problem_values AS problemValues, offending FROM quarantine`;

const rowOf = ({ reason, problemValues, offending, ...row }: StoredRow): QuarantineRow => ({
  ...row,
  ...(reason !== '' && { reason }),
  ...(problemValues !== null && { values: JSON.parse(problemValues) as ProblemValues }),
  ...(offending !== null && { offending }),
});

export interface QuarantineTable {
  /** Counts them in and returns the write, to be run in the caller's transaction. */
  readonly write: (rejections: readonly Rejection[]) => (connection: Connection) => void;
  /** Newest first. */
  readonly rows: (limit: number) => readonly QuarantineRow[];
}

export function openQuarantineTable(database: LabDatabase): QuarantineTable {
  database.migrate('quarantine', STEPS);
  const stored = database.writer.prepare<[], StoredRow>(ROWS).all();
  let quarantine = quarantineFrom(stored.map(rowOf));
  const save = database.writer.prepare(
    `INSERT OR REPLACE INTO quarantine
     VALUES (@topic, @code, @reason, @count, @firstAt, @lastAt, @sample, @bytes, @problemValues, @offending)`,
  );
  const remove = database.writer.prepare('DELETE FROM quarantine WHERE topic = @topic AND code = @code');
  const countOf = database.writer
    .prepare<Pick<QuarantineRow, 'topic' | 'code'>, number>(
      'SELECT count FROM quarantine WHERE topic = @topic AND code = @code',
    )
    .pluck();
  return {
    write: (rejections) => () => {
      const step = quarantineStep(quarantine, rejections);
      for (const { topic, code } of step.gone) remove.run({ topic, code });
      for (const { values, offending = null, reason = '', ...row } of step.changed)
        save.run({
          ...row,
          reason,
          offending,
          problemValues: values === undefined ? null : JSON.stringify(values),
          sample: Buffer.from(row.sample),
        });
      // What was undone must not stay in memory, or the next try would count it twice.
      database.afterTransaction(() => {
        if (step.changed.every((row) => countOf.get(row) === row.count)) quarantine = step.quarantine;
      });
    },
    rows: (limit) => [...quarantine.values()].reverse().slice(0, limit),
  };
}
