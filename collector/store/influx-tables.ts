// What lies in SQLite when the readings lie in InfluxDB: readings on their way there, those that it refused, the
// newest of each probe, and which readings of the last weeks there are, so that a repeat is recognised and the first
// value of an instant stays. A reading is put here in the transaction that applies it, with the quality and the
// calibration that it had then, and taken out when the server has it; so a server that is away loses nothing.

import type { LabDatabase } from '../../lab/database/database.ts';
import type { Reading } from '../../lab/reading.ts';
import { MILLIS_PER_DAY, MILLIS_PER_HOUR } from '../../wax/units.ts';

const STEPS = [
  `CREATE TABLE influx_unsent (id INTEGER PRIMARY KEY AUTOINCREMENT, count INTEGER NOT NULL, readings TEXT NOT NULL);
   CREATE TABLE influx_refused (probe TEXT NOT NULL, at INTEGER NOT NULL, reading TEXT NOT NULL, reason TEXT NOT NULL,
     PRIMARY KEY (probe, at)) WITHOUT ROWID;
   CREATE TABLE influx_newest (probe TEXT PRIMARY KEY, at INTEGER NOT NULL, reading TEXT NOT NULL) WITHOUT ROWID;`,
  `CREATE TABLE influx_series (id INTEGER PRIMARY KEY, probe TEXT NOT NULL UNIQUE);
   CREATE TABLE influx_kept (series INTEGER NOT NULL, at INTEGER NOT NULL, celsius REAL NOT NULL,
     PRIMARY KEY (series, at)) WITHOUT ROWID;`,
  'DROP TABLE influx_newest;',
  // Hours of probes whose figures on the server lack a change, with how often they changed since they were worked out.
  `CREATE TABLE influx_hour_due (hour INTEGER NOT NULL, probe TEXT NOT NULL, changes INTEGER NOT NULL,
     PRIMARY KEY (hour, probe)) WITHOUT ROWID;
   CREATE TABLE influx_rollup (probe TEXT PRIMARY KEY, complete_from INTEGER NOT NULL) WITHOUT ROWID;`,
];

/** Longer than a broker keeps messages for a collector that is away. */
const KEPT_MILLIS = 40 * MILLIS_PER_DAY;

/** Of what is sent again. */
const READINGS_A_ROW = 1000;

export interface Refused {
  readonly reading: Reading;
  readonly reason: string;
}

/** Rows of whole batches that wait. */
export interface Unsent {
  /** Number of the first row. */
  readonly first: number;
  readonly last: number;
  readonly readings: readonly Reading[];
}

export interface InfluxTables {
  /** Adds those that are not there yet. Runs inside the caller's transaction. */
  readonly add: (readings: readonly Reading[]) => void;
  /** The value that is kept for exactly that instant; null when there is none, or it is older than the last weeks. */
  readonly celsiusAt: (probe: string, at: number) => number | null;
  /** The oldest rows whose number is greater than `after`, about `most` readings; null when none waits. */
  readonly next: (span: { readonly after: number; readonly most: number }) => Unsent | null;
  /** Number of the newest row that waits; 0 when none does. */
  readonly newestRow: () => number;
  /** The rows are with the server, but for what it refused. One transaction of its own. */
  readonly sent: (rows: Unsent, refused: readonly Refused[]) => void;
  /** What the server refused, newest first. */
  readonly setAside: (limit: number) => readonly Refused[];
  /** Puts what was refused among those that wait again and returns how many they are. */
  readonly sendAgain: () => number;
  readonly waiting: () => number;
  readonly refused: () => number;
}

export function openInfluxTables(database: LabDatabase): InfluxTables {
  database.migrate('collector/influx', STEPS);
  const { writer } = database;
  const addUnsent = writer.prepare<[number, string]>(
    'INSERT INTO influx_unsent (count, readings) VALUES (?, ?)',
  );
  const oldest = writer
    .prepare<[number], [id: number, readings: string]>(
      'SELECT id, readings FROM influx_unsent WHERE id > ? ORDER BY id',
    )
    .raw();
  const removeRows = writer.prepare<[number, number]>('DELETE FROM influx_unsent WHERE id BETWEEN ? AND ?');
  const newestRow = writer.prepare<[], number | null>('SELECT max(id) FROM influx_unsent').pluck();
  const refusedRows = writer.prepare<[number], { readonly reading: string; readonly reason: string }>(
    'SELECT reading, reason FROM influx_refused ORDER BY at DESC LIMIT ?',
  );
  const forgetRefused = writer.prepare('DELETE FROM influx_refused');
  const setAside = (limit: number): readonly Refused[] =>
    refusedRows.all(limit).map(({ reading, reason }) => ({ reading: JSON.parse(reading), reason }));
  const addRefused = writer.prepare<[string, number, string, string]>(
    'INSERT OR REPLACE INTO influx_refused VALUES (?, ?, ?, ?)',
  );
  const numberFrom = (sql: string) => writer.prepare<[], number>(sql).pluck();
  const waiting = numberFrom('SELECT coalesce(sum(count), 0) FROM influx_unsent');
  const refusedCount = numberFrom('SELECT count(*) FROM influx_refused');
  const markDue = writer.prepare<[number, string]>(
    'INSERT INTO influx_hour_due VALUES (?, ?, 1) ON CONFLICT DO UPDATE SET changes = changes + 1',
  );
  const values = openKept(database);
  return {
    celsiusAt: values.celsiusAt,
    add: (all) => {
      const readings = all.filter(values.add);
      if (readings.length === 0) return;
      addUnsent.run(readings.length, JSON.stringify(readings));
    },
    next: ({ after, most }) => {
      const readings: Reading[] = [];
      let [first, last] = [0, 0];
      for (const [id, text] of oldest.iterate(after)) {
        const batch: readonly Reading[] = JSON.parse(text);
        if (readings.length > 0 && readings.length + batch.length > most) break;
        readings.push(...batch);
        if (first === 0) first = id;
        last = id;
      }
      return last === 0 ? null : { first, last, readings };
    },
    newestRow: () => newestRow.get() ?? 0,
    sent: ({ first, last, readings }, refused) =>
      database.transaction(() => {
        for (const [probe, hours] of hoursOf(readings)) for (const hour of hours) markDue.run(hour, probe);
        for (const { reading, reason } of refused)
          addRefused.run(reading.probe, reading.at, JSON.stringify(reading), reason);
        removeRows.run(first, last);
      }),
    setAside,
    sendAgain: () =>
      database.transaction(() => {
        const readings = setAside(-1).map(({ reading }) => reading);
        for (let from = 0; from < readings.length; from += READINGS_A_ROW) {
          const batch = readings.slice(from, from + READINGS_A_ROW);
          addUnsent.run(batch.length, JSON.stringify(batch));
        }
        forgetRefused.run();
        return readings.length;
      }),
    waiting: () => waiting.get() ?? 0,
    refused: () => refusedCount.get() ?? 0,
  };
}

/** Starts of the hours in which readings of each probe lie. */
function hoursOf(readings: readonly Reading[]): ReadonlyMap<string, ReadonlySet<number>> {
  const hours = new Map<string, Set<number>>();
  for (const { probe, at } of readings) {
    const hour = Math.floor(at / MILLIS_PER_HOUR) * MILLIS_PER_HOUR;
    const before = hours.get(probe);
    if (before === undefined) hours.set(probe, new Set([hour]));
    else before.add(hour);
  }
  return hours;
}

function openKept({ writer }: LabDatabase) {
  const findSeries = writer.prepare<[string], number>('SELECT id FROM influx_series WHERE probe = ?').pluck();
  const addSeries = writer.prepare<[string]>('INSERT INTO influx_series (probe) VALUES (?)');
  const add = writer.prepare<[number, number, number]>('INSERT OR IGNORE INTO influx_kept VALUES (?, ?, ?)');
  const find = writer
    .prepare<[number, number], number>('SELECT celsius FROM influx_kept WHERE series = ? AND at = ?')
    .pluck();
  const forget = writer.prepare<[number, number]>('DELETE FROM influx_kept WHERE series = ? AND at < ?');
  /** By series: the day of its newest reading when old ones were last forgotten. */
  const tidied = new Map<number, number>();
  return {
    /** True when the reading is new. */
    add: ({ probe, at, celsius }: Reading): boolean => {
      const series = findSeries.get(probe) ?? Number(addSeries.run(probe).lastInsertRowid);
      const day = Math.floor(at / MILLIS_PER_DAY);
      if (day > (tidied.get(series) ?? Number.NEGATIVE_INFINITY)) {
        forget.run(series, at - KEPT_MILLIS);
        tidied.set(series, day);
      }
      return add.run(series, Math.round(at), celsius).changes === 1;
    },
    celsiusAt: (probe: string, at: number): number | null => {
      const series = findSeries.get(probe);
      return series === undefined ? null : (find.get(series, Math.round(at)) ?? null);
    },
  };
}
