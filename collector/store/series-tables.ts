// The tables of readings and their rollups by minute and hour, and the writer that keeps all three in step.
// Rollups count only rows that were new, so a late, doubled or unordered reading leaves them exact.

import type { LabDatabase } from '../../lab/database.ts';
import type { Quality, Reading } from '../../lab/reading.ts';
import { MILLIS_PER_HOUR, MILLIS_PER_MINUTE } from '../../wax/units.ts';

export const QUALITY_CODES: Readonly<Record<Quality, number>> = { good: 0, suspect: 1, 'uncertain-time': 2 };

// Ordered by probe and instant, so that what a chart reads together lies together.
const rollup = (name: string): string =>
  `CREATE TABLE ${name} (series INTEGER NOT NULL, at INTEGER NOT NULL, low REAL NOT NULL, high REAL NOT NULL,
     total REAL NOT NULL, count INTEGER NOT NULL, doubtful INTEGER NOT NULL, PRIMARY KEY (series, at)) WITHOUT ROWID;`;
const STEPS = [
  `CREATE TABLE series (id INTEGER PRIMARY KEY, probe TEXT NOT NULL UNIQUE);
   CREATE TABLE reading (series INTEGER NOT NULL, at INTEGER NOT NULL, celsius REAL NOT NULL, quality INTEGER NOT NULL,
     PRIMARY KEY (series, at)) WITHOUT ROWID;
   ${rollup('reading_minute')}
   ${rollup('reading_hour')}`,
];

/** Keeps a mean finite when a broken probe says 1e308 again and again; extremes are kept as they are. */
const MOST_ADDED = 1e12;

interface Rollup {
  low: number;
  high: number;
  total: number;
  count: number;
  doubtful: number;
}

const include = (rollups: Map<number, Rollup>, at: number, added: Readonly<Rollup>): void => {
  const rollup = rollups.get(at);
  if (rollup === undefined) {
    rollups.set(at, { ...added });
    return;
  }
  if (added.low < rollup.low) rollup.low = added.low;
  if (added.high > rollup.high) rollup.high = added.high;
  rollup.total += added.total;
  rollup.count += added.count;
  rollup.doubtful += added.doubtful;
};

const floorTo = (at: number, step: number): number => Math.floor(at / step) * step;

export interface SeriesWriter {
  /** Adds the readings that are not there yet. Runs inside the caller's transaction. */
  readonly add: (readings: readonly Reading[]) => void;
  /** To be called when the transaction around `add` was undone. */
  readonly undone: () => void;
}

export function openSeriesWriter(database: LabDatabase): SeriesWriter {
  database.migrate('collector/series', STEPS);
  const { writer } = database;
  const findSeries = writer.prepare<[string], number>('SELECT id FROM series WHERE probe = ?').pluck();
  const addSeries = writer.prepare<[string]>('INSERT INTO series (probe) VALUES (?)');
  const addReading = writer.prepare<[number, number, number, number]>(
    'INSERT OR IGNORE INTO reading VALUES (?, ?, ?, ?)',
  );
  const upsert = (table: string) =>
    writer.prepare<[number, number, number, number, number, number, number]>(
      `INSERT INTO ${table} VALUES (?, ?, ?, ?, ?, ?, ?) ON CONFLICT (series, at) DO UPDATE SET
         low = min(low, excluded.low), high = max(high, excluded.high), total = total + excluded.total,
         count = count + excluded.count, doubtful = doubtful + excluded.doubtful`,
    );
  const tiers = [
    { step: MILLIS_PER_MINUTE, statement: upsert('reading_minute') },
    { step: MILLIS_PER_HOUR, statement: upsert('reading_hour') },
  ];
  const ids = new Map<string, number>();
  const seriesOf = (probe: string): number => {
    const id = ids.get(probe) ?? findSeries.get(probe) ?? Number(addSeries.run(probe).lastInsertRowid);
    ids.set(probe, id);
    return id;
  };

  const save = (series: number, minutes: ReadonlyMap<number, Rollup>): void => {
    for (const { step, statement } of tiers) {
      const wide = new Map<number, Rollup>();
      for (const [at, minute] of minutes) include(wide, floorTo(at, step), minute);
      for (const [at, { low, high, total, count, doubtful }] of wide)
        statement.run(series, at, low, high, total, count, doubtful);
    }
  };

  return {
    add: (readings) => {
      const added = new Map<number, Map<number, Rollup>>();
      for (const { probe, at: instant, celsius, quality } of readings) {
        const at = Math.round(instant);
        const series = seriesOf(probe);
        if (addReading.run(series, at, celsius, QUALITY_CODES[quality]).changes === 0) continue;
        let minutes = added.get(series);
        if (minutes === undefined) {
          minutes = new Map();
          added.set(series, minutes);
        }
        const total = Math.min(celsius, MOST_ADDED);
        const doubtful = quality === 'good' ? 0 : 1;
        include(minutes, floorTo(at, MILLIS_PER_MINUTE), {
          low: celsius,
          high: celsius,
          total,
          count: 1,
          doubtful,
        });
      }
      for (const [series, minutes] of added) save(series, minutes);
    },
    undone: () => ids.clear(),
  };
}
