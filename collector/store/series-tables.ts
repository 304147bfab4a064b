// The tables of readings. Fresh ones lie row by row in `reading`; those of hours and days that are over lie in
// packs (sealed/pack.ts) with the figures of each hour beside them. A row in `reading` whose hour is in a pack is a
// late one; where both have an instant, the pack is right. Nothing here reads or seals.

import type { LabDatabase } from '../../lab/database/database.ts';
import type { Quality, Reading } from '../../lab/reading.ts';

const QUALITIES: readonly Quality[] = ['good', 'suspect', 'uncertain-time'];
const QUALITY_CODES: Readonly<Record<Quality, number>> = { good: 0, suspect: 1, 'uncertain-time': 2 };
export const qualityOf = (code: number): Quality => QUALITIES[code] ?? 'suspect';

/** Series with neighbouring numbers share packs; probes of one gateway mostly are neighbours. */
export const SERIES_A_PACK = 32;
export const packChunk = (series: number): number => Math.floor(series / SERIES_A_PACK);

// Ordered by series and instant, so that what a chart reads together lies together.
const oldRollup = (name: string): string =>
  `CREATE TABLE ${name} (series INTEGER NOT NULL, at INTEGER NOT NULL, low REAL NOT NULL, high REAL NOT NULL,
     total REAL NOT NULL, count INTEGER NOT NULL, doubtful INTEGER NOT NULL, PRIMARY KEY (series, at)) WITHOUT ROWID;`;
const STEPS = [
  `CREATE TABLE series (id INTEGER PRIMARY KEY, probe TEXT NOT NULL UNIQUE);
   CREATE TABLE reading (series INTEGER NOT NULL, at INTEGER NOT NULL, celsius REAL NOT NULL, quality INTEGER NOT NULL,
     PRIMARY KEY (series, at)) WITHOUT ROWID;
   ${oldRollup('reading_minute')}
   ${oldRollup('reading_hour')}`,
  // The rollups of the first version are emptied and dropped by the sealer: at once they would hold up the start.
  `CREATE TABLE reading_pack (id INTEGER PRIMARY KEY AUTOINCREMENT, chunk INTEGER NOT NULL, start INTEGER NOT NULL, end INTEGER NOT NULL,
     directory BLOB NOT NULL, body BLOB NOT NULL);
   CREATE UNIQUE INDEX reading_pack_span ON reading_pack (chunk, start);
   CREATE INDEX reading_pack_hour ON reading_pack (chunk, start) WHERE end - start < 86400000;
   CREATE TABLE reading_hours (series INTEGER NOT NULL, start INTEGER NOT NULL, end INTEGER NOT NULL, hours BLOB NOT NULL,
     PRIMARY KEY (series, start)) WITHOUT ROWID;`,
  // Damaged packs and figures as they were found. `number`: the chunk of a pack, the series of figures.
  `CREATE TABLE damaged_readings (id INTEGER PRIMARY KEY, kind TEXT NOT NULL CHECK (kind IN ('pack', 'figures')), number INTEGER NOT NULL,
     start INTEGER NOT NULL, end INTEGER NOT NULL, directory BLOB, body BLOB NOT NULL, set_aside_at TEXT NOT NULL);`,
];

/** Many rows in one statement take two thirds of the time that they take one by one. */
const ROWS_A_STATEMENT = 32;

export interface SeriesWriter {
  /** Adds the readings that are not there yet and returns how many. Runs inside the caller's transaction. */
  readonly add: (readings: readonly Reading[]) => number;
  /** To be called when the transaction around `add` was undone. */
  readonly undone: () => void;
}

export function openSeriesWriter(database: LabDatabase): SeriesWriter {
  database.migrate('collector/series', STEPS);
  const { writer } = database;
  const findSeries = writer.prepare<[string], number>('SELECT id FROM series WHERE probe = ?').pluck();
  const addSeries = writer.prepare<[string]>('INSERT INTO series (probe) VALUES (?)');
  const addRows = (count: number) =>
    writer.prepare<[number[]]>(
      `INSERT OR IGNORE INTO reading VALUES ${Array.from({ length: count }, () => '(?, ?, ?, ?)').join(', ')}`,
    );
  const [addOne, addMany] = [addRows(1), addRows(ROWS_A_STATEMENT)];
  const ids = new Map<string, number>();
  const seriesOf = (probe: string): number => {
    const id = ids.get(probe) ?? findSeries.get(probe) ?? Number(addSeries.run(probe).lastInsertRowid);
    ids.set(probe, id);
    return id;
  };
  return {
    add: (readings) => {
      let added = 0;
      let row: number[] = [];
      const last = readings.length - (readings.length % ROWS_A_STATEMENT);
      for (const [index, { probe, at, celsius, quality }] of readings.entries()) {
        row.push(seriesOf(probe), Math.round(at), celsius, QUALITY_CODES[quality]);
        if (index < last && row.length < 4 * ROWS_A_STATEMENT) continue;
        added += (index < last ? addMany : addOne).run(row).changes;
        row = [];
      }
      return added;
    },
    undone: () => ids.clear(),
  };
}
