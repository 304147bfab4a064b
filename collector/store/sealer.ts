// Moves readings of hours and days that are over from rows into packs. A pack is written in one transaction, then its
// rows are deleted in small ones; a kill between them leaves rows that are in a pack already, which count once
// and are deleted the next time. Coding and compressing happen before the transaction, beside live readings.

import { setImmediate as othersTurn } from 'node:timers/promises';
import type { LabDatabase } from '../../lab/database/database.ts';
import { MILLIS_PER_DAY } from '../../wax/units.ts';
import { openPackTables } from './pack-tables.ts';
import { DamagedReadings } from './sealed/damaged-readings.ts';
import { hoursSealedAnew } from './sealed/hour-figures.ts';
import { encodePack, type PackSeries } from './sealed/pack.ts';
import { mergeRows, NO_ROWS, rowsBeside, type SeriesRows } from './sealed/series-rows.ts';
import { openSealPlan, type DueSpan } from './seal-plan.ts';
import { openSeriesRowsReader } from './series-rows-reader.ts';

export interface Sealer {
  /**
   * Seals all that is due at `now` and returns how many packs it wrote; calls while one runs share it. Where a pack is
   * damaged its probes wait, the others go on.
   * @throws DamagedReadings when all that can be sealed is
   */
  readonly seal: (now: number) => Promise<number>;
  /** Ends after the pack that is being written. */
  readonly stop: () => Promise<void>;
}

interface Gathered extends PackSeries {
  readonly freshCount: number;
  /** Its rows in packs before. */
  readonly sealed: SeriesRows;
}

/** Rows of the first version's rollups that one transaction deletes. */
const OLD_ROLLUPS_AT_ONCE = 20_000;
const SHRUNK_AT_ONCE_BYTES = 1024 * 1024;

export function openSealer(database: LabDatabase): Sealer {
  const { writer, transaction } = database;
  const plan = openSealPlan(writer);
  const tables = openPackTables(writer);
  const reader = openSeriesRowsReader(writer);
  const countFresh = writer
    .prepare<[number, number, number], number>(
      'SELECT count(*) FROM reading WHERE series = ? AND at >= ? AND at < ?',
    )
    .pluck();
  const deleteFresh = writer.prepare<[number, number, number]>(
    'DELETE FROM reading WHERE series = ? AND at >= ? AND at < ?',
  );
  let isEnding = false;
  let running: Promise<number> | null = null;

  const gather = async (chunk: number, { start, end }: DueSpan): Promise<readonly Gathered[]> => {
    const all: Gathered[] = [];
    for (const series of plan.series(chunk)) {
      const sealed = reader.sealedRows(series, start, end) ?? NO_ROWS;
      const fresh = reader.freshRows(series, start, end);
      const rows = mergeRows(sealed, fresh);
      if (rows.times.length > 0) all.push({ ...rows, series, freshCount: fresh.times.length, sealed });
      await othersTurn();
    }
    return all;
  };

  const sealSpan = async (chunk: number, span: DueSpan): Promise<void> => {
    const { start, end } = span;
    const all = await gather(chunk, span);
    const pack = await encodePack(all);
    transaction(() => {
      for (const old of tables.packs(chunk, start, end)) {
        // What of it lies outside was not gathered.
        if (old.start < start || old.end > end)
          throw new Error(`pack ${old.id} reaches beyond what is sealed`);
        tables.removePack(old.id);
      }
      tables.addPack({ ...span, ...pack, chunk });
      for (const rows of all) {
        const before = tables.hours(rows.series, start, end);
        const hours = hoursSealedAnew(before, rows.sealed, rows, rowsBeside(rows, rows.sealed));
        tables.setHours({ ...span, series: rows.series, hours });
      }
    });
    for (const { series, freshCount } of all) {
      await othersTurn();
      // A row that came since is not in the pack: all stay and are sealed again.
      if (countFresh.get(series, start, end) === freshCount)
        transaction(() => deleteFresh.run(series, start, end));
    }
  };

  const sealAll = async (now: number): Promise<number> => {
    await dropOldRollups(database, () => isEnding);
    let packs = 0;
    let hasDay = false;
    let damaged: DamagedReadings | null = null;
    for (const chunk of plan.chunks()) {
      try {
        for (let span = plan.next(chunk, now); span !== null && !isEnding; span = plan.next(chunk, now)) {
          await sealSpan(chunk, span);
          packs += 1;
          hasDay ||= span.end - span.start === MILLIS_PER_DAY;
        }
      } catch (error) {
        if (!(error instanceof DamagedReadings)) throw error;
        damaged ??= error;
      }
    }
    // Once a day: what an hour leaves unused the next one uses again.
    while (hasDay && !isEnding && database.shrink(SHRUNK_AT_ONCE_BYTES)) await othersTurn();
    if (damaged !== null) throw damaged;
    return packs;
  };

  return {
    seal: (now) => {
      running ??= sealAll(now).finally(() => {
        running = null;
      });
      return running;
    },
    stop: async () => {
      isEnding = true;
      await running?.catch(() => {});
    },
  };
}

/** The first version had rollups by minute and hour as rows; the figures of packs stand for them now. */
async function dropOldRollups({ writer, transaction }: LabDatabase, isEnding: () => boolean): Promise<void> {
  const isThere = writer
    .prepare<[string], number>("SELECT 1 FROM sqlite_master WHERE type = 'table' AND name = ?")
    .pluck();
  for (const table of ['reading_minute', 'reading_hour']) {
    if (isThere.get(table) === undefined) continue;
    const remove = writer.prepare(
      `DELETE FROM ${table} WHERE (series, at) IN (SELECT series, at FROM ${table} LIMIT ${OLD_ROLLUPS_AT_ONCE})`,
    );
    while (transaction(() => remove.run().changes) > 0) {
      if (isEnding()) return;
      await othersTurn();
    }
    transaction(() => writer.exec(`DROP TABLE ${table}`));
  }
}
