// Alarms and every change of theirs in the database: written in the transaction that steps them, kept for ever.
// The changes are the record; the alarm table is only their newest state, for quick lists.

import type { Connection, LabDatabase } from '../../lab/database/database.ts';
import type { EpochMillis } from '../../wax/units.ts';
import type { Alarm, AlarmChange } from '../watch/life/alarm.ts';

const STEPS = [
  `CREATE TABLE alarm (
     id TEXT PRIMARY KEY, subject TEXT NOT NULL, rule TEXT NOT NULL, raised_at INTEGER NOT NULL, alarm TEXT NOT NULL
   ) WITHOUT ROWID;
   CREATE INDEX alarm_raised ON alarm (raised_at);
   CREATE TABLE alarm_change (
     number INTEGER PRIMARY KEY AUTOINCREMENT,
     alarm_id TEXT NOT NULL, kind TEXT NOT NULL, at INTEGER NOT NULL, by TEXT, reason TEXT, alarm TEXT NOT NULL
   );
   CREATE INDEX alarm_change_alarm ON alarm_change (alarm_id, number);
   CREATE INDEX alarm_change_at ON alarm_change (at);
   CREATE TRIGGER alarm_change_stays BEFORE UPDATE ON alarm_change
     BEGIN SELECT raise(ABORT, 'the history of an alarm is never changed'); END;
   CREATE TRIGGER alarm_change_is_kept BEFORE DELETE ON alarm_change
     BEGIN SELECT raise(ABORT, 'the history of an alarm is never deleted'); END;`,
];

export interface AlarmArchive {
  /** Returns the write, to be run in the caller's transaction. */
  readonly write: (changes: readonly AlarmChange[]) => (connection: Connection) => void;
  /** Raised in [from, to), newest first, over ones included; not what was hidden by design until it was over. */
  readonly alarmsBetween: (from: EpochMillis, to: EpochMillis, limit: number) => readonly Alarm[];
  readonly alarm: (id: string) => Alarm | null;
  /** Oldest first. */
  readonly alarmChanges: (id: string) => readonly AlarmChange[];
  /** All changes in [from, to), oldest first: what the figures of alarm quality are counted from. */
  readonly changesBetween: (from: EpochMillis, to: EpochMillis, limit: number) => readonly AlarmChange[];
  /** The change after that number, with its own, which only ever grows; null when there is none yet. */
  readonly changeAfter: (number: number) => (AlarmChange & { readonly number: number }) | null;
  /** 0 when there is none yet. */
  readonly newestChange: () => number;
}

interface ChangeRow extends Omit<AlarmChange, 'alarm'> {
  readonly alarm: string;
}

const CHANGES_BETWEEN =
  'SELECT kind, at, by, reason, alarm FROM alarm_change WHERE at >= ? AND at < ? ORDER BY number LIMIT ?';
/** No limit, to SQLite. */
const ALL = -1;

// What is read back was written below, from an Alarm.
const alarmOf = (text: string): Alarm => JSON.parse(text) as Alarm;
const changeOf = (row: ChangeRow): AlarmChange => ({ ...row, alarm: alarmOf(row.alarm) });

/** All changes in [from, to), oldest first, through a connection that only reads. */
export const readAlarmChanges = (
  connection: Connection,
  from: EpochMillis,
  to: EpochMillis,
): readonly AlarmChange[] =>
  connection.prepare<[number, number, number], ChangeRow>(CHANGES_BETWEEN).all(from, to, ALL).map(changeOf);

export function openAlarmArchive(database: LabDatabase): AlarmArchive {
  database.migrate('alarm archive', STEPS);
  const { writer } = database;
  const save = writer.prepare(
    'INSERT OR REPLACE INTO alarm VALUES (@id, @subject, @rule, @raised_at, @alarm)',
  );
  const append = writer.prepare(
    'INSERT INTO alarm_change (alarm_id, kind, at, by, reason, alarm) VALUES (@id, @kind, @at, @by, @reason, @alarm)',
  );
  const between = writer
    .prepare<[number, number, number], string>(
      `SELECT alarm FROM alarm WHERE raised_at >= ? AND raised_at < ? AND EXISTS (
         SELECT 1 FROM alarm_change change WHERE change.alarm_id = alarm.id
           AND (change.kind = 'learned' OR json_extract(change.alarm, '$.active')) AND json_extract(change.alarm, '$.suppressedBy') IS NULL
       ) ORDER BY raised_at DESC, id LIMIT ?`,
    )
    .pluck();
  const alarmById = writer.prepare<[string], string>('SELECT alarm FROM alarm WHERE id = ?').pluck();
  const history = writer.prepare<[string], ChangeRow>(
    'SELECT kind, at, by, reason, alarm FROM alarm_change WHERE alarm_id = ? ORDER BY number',
  );
  const changes = writer.prepare<[number, number, number], ChangeRow>(CHANGES_BETWEEN);
  const after = writer.prepare<[number], ChangeRow & { readonly number: number }>(
    'SELECT number, kind, at, by, reason, alarm FROM alarm_change WHERE number > ? ORDER BY number LIMIT 1',
  );
  const newest = writer.prepare<[], number>('SELECT coalesce(max(number), 0) FROM alarm_change').pluck();
  return {
    write: (written) => () => {
      for (const { alarm, kind, at, by, reason } of written) {
        const text = JSON.stringify(alarm);
        const { id, subject, rule, raisedAt } = alarm;
        save.run({ id, subject, rule, raised_at: raisedAt, alarm: text });
        append.run({ id, kind, at, by, reason, alarm: text });
      }
    },
    alarmsBetween: (from, to, limit) => between.all(from, to, limit).map(alarmOf),
    alarm: (id) => {
      const text = alarmById.get(id);
      return text === undefined ? null : alarmOf(text);
    },
    alarmChanges: (id) => history.all(id).map(changeOf),
    changesBetween: (from, to, limit) => changes.all(from, to, limit).map(changeOf),
    changeAfter: (number) => {
      const row = after.get(number);
      return row === undefined ? null : { ...changeOf(row), number: row.number };
    },
    newestChange: () => newest.get() ?? 0,
  };
}
