// Who was shown which procedure, when and by whom: rows are only ever added; one written by mistake is withdrawn with
// a reason and stays to be read.

import type { LabDatabase } from '../../../lab/database/database.ts';
import type { EpochMillis } from '../../../wax/units.ts';
import type { TrainingView } from '../../api/training.ts';
import { iso } from '../../../wax/iso.ts';

const KEPT = ['training', 'training_withdrawal'].flatMap((table) => [
  `CREATE TRIGGER ${table}_stays BEFORE UPDATE ON ${table}
     BEGIN SELECT raise(ABORT, 'a record of training is never changed'); END;`,
  `CREATE TRIGGER ${table}_is_kept BEFORE DELETE ON ${table}
     BEGIN SELECT raise(ABORT, 'a record of training is never deleted'); END;`,
]);
const STEPS = [
  [
    `CREATE TABLE training (number INTEGER PRIMARY KEY, person TEXT NOT NULL, name TEXT NOT NULL, procedure TEXT NOT NULL,
       edition TEXT, day TEXT NOT NULL, shown_by TEXT NOT NULL, at INTEGER NOT NULL);`,
    `CREATE TABLE training_withdrawal (training INTEGER PRIMARY KEY REFERENCES training, by TEXT NOT NULL,
       at INTEGER NOT NULL, reason TEXT NOT NULL);`,
    ...KEPT,
  ].join('\n'),
];

interface Row extends Omit<TrainingView, 'at' | 'withdrawn'> {
  readonly at: EpochMillis;
  readonly withdrawnBy: string | null;
  readonly withdrawnAt: EpochMillis | null;
  readonly reason: string | null;
}

export interface TrainingEntry {
  /** Id, and the name that the person has now. */
  readonly person: string;
  readonly name: string;
  readonly procedure: string;
  readonly edition: string | null;
  readonly day: string;
  readonly shownBy: string;
  readonly at: EpochMillis;
}

export interface TrainingRecords {
  /** Newest day first. */
  readonly all: () => readonly TrainingView[];
  readonly byNumber: (number: number) => TrainingView | null;
  readonly add: (entry: TrainingEntry) => TrainingView;
  readonly withdraw: (number: number, by: string, at: EpochMillis, reason: string) => void;
}

const viewOf = ({ at, withdrawnBy, withdrawnAt, reason, ...facts }: Row): TrainingView => ({
  ...facts,
  at: iso(at),
  withdrawn:
    withdrawnBy === null || withdrawnAt === null
      ? null
      : { by: withdrawnBy, at: iso(withdrawnAt), reason: reason ?? '' },
});

export const openTrainingRecords = (database: LabDatabase): TrainingRecords => {
  database.migrate('training', STEPS);
  const { writer } = database;
  const columns = `SELECT number, name AS person, procedure, edition, day, shown_by AS shownBy, training.at AS at,
    withdrawal.by AS withdrawnBy, withdrawal.at AS withdrawnAt, withdrawal.reason AS reason
    FROM training LEFT JOIN training_withdrawal withdrawal ON withdrawal.training = training.number`;
  const all = writer.prepare<[], Row>(`${columns} ORDER BY day DESC, number DESC`);
  const byRowNumber = writer.prepare<[number | bigint], Row>(`${columns} WHERE number = ?`);
  const add = writer.prepare(
    `INSERT INTO training (person, name, procedure, edition, day, shown_by, at)
     VALUES (@person, @name, @procedure, @edition, @day, @shownBy, @at)`,
  );
  const withdraw = writer.prepare('INSERT INTO training_withdrawal VALUES (?, ?, ?, ?)');
  const byNumber = (number: number | bigint): TrainingView | null => {
    const row = byRowNumber.get(number);
    return row === undefined ? null : viewOf(row);
  };
  return {
    all: () => all.all().map(viewOf),
    byNumber,
    add: (entry) => {
      const added = byNumber(add.run(entry).lastInsertRowid);
      if (added === null) throw new Error('The record of training was written and is not there.');
      return added;
    },
    withdraw: (number, by, at, reason) => void withdraw.run(number, by, at, reason),
  };
};
