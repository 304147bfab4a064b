// What people did, what gateways and the program itself reported, and when it did not run, as the rules took it in:
// kept for replays, because readings alone do not show that somebody topped up or acknowledged. Rows are only added.
// Who did it and why is in the audit trail, not here.

import { type EpochMillis, epochMillis } from '../../wax/units.ts';
import type { Act } from '../act.ts';
import { type Connection, hasTable, type LabDatabase } from './database.ts';
import type { ActEntry, Entry, GatewayEntry, ProbesGoneEntry, SelfCheckEntry, TickEntry } from '../entry.ts';

export type RecordedEntry = ActEntry | GatewayEntry | ProbesGoneEntry | SelfCheckEntry | TickEntry;

export const isRecorded = (entry: Entry): entry is RecordedEntry =>
  entry.kind === 'gateway' ||
  entry.kind === 'probes-gone' ||
  entry.kind === 'self-check' ||
  (entry.kind === 'act' && entry.act.type !== 'note') ||
  (entry.kind === 'tick' && entry.after !== undefined);

const STEPS = [
  `CREATE TABLE recorded_entry (number INTEGER PRIMARY KEY AUTOINCREMENT, received_at INTEGER NOT NULL, entry TEXT NOT NULL);
   CREATE INDEX recorded_entry_at ON recorded_entry (received_at);`,
];
const TABLE = 'recorded_entry';

/** Some acts are refused without a reason. */
const REASON = 'recorded';

const withoutPerson = (act: Act): Act =>
  act.reason === undefined ? { ...act, by: '' } : { ...act, by: '', reason: REASON };

const toStored = (entry: RecordedEntry): RecordedEntry =>
  entry.kind === 'act' ? { ...entry, act: withoutPerson(entry.act) } : entry;

export interface EntryRecord {
  /** Returns the write, to be run in the transaction that takes the entries in. */
  readonly write: (entries: readonly RecordedEntry[]) => (connection: Connection) => void;
  /** In [from, to), in the order in which they came. */
  readonly between: (from: EpochMillis, to: EpochMillis) => readonly RecordedEntry[];
}

export function openEntryRecord(database: LabDatabase): EntryRecord {
  database.migrate('recorded entries', STEPS);
  const add = database.writer.prepare<[number, string]>(
    `INSERT INTO ${TABLE} (received_at, entry) VALUES (?, ?)`,
  );
  return {
    write: (entries) => () => {
      for (const entry of entries) add.run(entry.receivedAt, JSON.stringify(toStored(entry)));
    },
    between: (from, to) => readRecordedEntries(database.writer, from, to),
  };
}

/** In [from, to), in the order in which they came; none from a database of before they were kept. */
export function readRecordedEntries(
  connection: Connection,
  from: EpochMillis,
  to: EpochMillis,
): readonly RecordedEntry[] {
  if (!hasTable(connection, TABLE)) return [];
  return connection
    .prepare<[number, number], string>(
      `SELECT entry FROM ${TABLE} WHERE received_at >= ? AND received_at < ? ORDER BY number`,
    )
    .pluck()
    .all(from, to)
    .map((text) => {
      // What is read back was written above.
      const entry = JSON.parse(text) as RecordedEntry;
      return { ...entry, receivedAt: epochMillis(entry.receivedAt) };
    });
}
