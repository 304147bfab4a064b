// Takes damaged readings out of the way: each damaged pack is kept as it was found in a table of its own, and what of it is
// sound lies in a new one; figures of hours are worked out anew where their readings are sound. All in one transaction. Afterwards sealing, deletion and charts go on.

import type { LabDatabase } from '../../lab/database/database.ts';
import { openPackTables } from './pack-tables.ts';
import { DamagedReadings } from './sealed/damaged-readings.ts';
import { hourFigures } from './sealed/hour-figures.ts';
import { packWithout } from './sealed/pack.ts';
import { openSeriesRowsReader } from './series-rows-reader.ts';
import { openSeriesWriter } from './series-tables.ts';
import { type SeriesFault, verifySeries } from './verify-series.ts';

export interface SetAsideCount {
  readonly packs: number;
  /** Spans of one probe whose figures of hours were damaged. */
  readonly figures: number;
}

interface FaultyPack {
  readonly id: number;
  readonly damaged: Set<number>;
}

const KEEP_PACK = `INSERT INTO damaged_readings (kind, number, start, end, directory, body, set_aside_at)
  SELECT 'pack', chunk, start, end, directory, body, strftime('%Y-%m-%dT%H:%M:%fZ') FROM reading_pack WHERE id = ?`;
const KEEP_FIGURES = `INSERT INTO damaged_readings (kind, number, start, end, directory, body, set_aside_at)
  SELECT 'figures', series, start, end, NULL, hours, strftime('%Y-%m-%dT%H:%M:%fZ') FROM reading_hours
  WHERE series = ? AND start = ?`;

/** What is sound of a pack; null when that is nothing. */
function soundPart(pack: Parameters<typeof packWithout>[0], damaged: ReadonlySet<number>) {
  try {
    return packWithout(pack, damaged);
  } catch (error) {
    if (error instanceof DamagedReadings) return null;
    throw error;
  }
}

export function setAsideDamaged(database: LabDatabase): SetAsideCount {
  // Brings the tables up to date.
  openSeriesWriter(database);
  const { writer, transaction } = database;
  const tables = openPackTables(writer);
  const packOf = writer.prepare<
    [number],
    {
      readonly chunk: number;
      readonly start: number;
      readonly end: number;
      readonly directory: Uint8Array;
      readonly body: Uint8Array;
    }
  >('SELECT chunk, start, end, directory, body FROM reading_pack WHERE id = ?');
  const keepPack = writer.prepare<[number]>(KEEP_PACK);
  const keepFigures = writer.prepare<[number, number]>(KEEP_FIGURES);
  const removeFigures = writer.prepare<[number, number]>(
    'DELETE FROM reading_hours WHERE series = ? AND start = ?',
  );
  return transaction(() => {
    const packs = new Map<number, FaultyPack>();
    const figures: SeriesFault[] = [];
    verifySeries(writer, (fault) => {
      const { kind, pack, series } = fault;
      if (kind === 'figures') figures.push(fault);
      else if (pack !== null) {
        const { damaged } = packs.get(pack) ?? { damaged: new Set<number>() };
        packs.set(pack, { id: pack, damaged: series === null ? damaged : damaged.add(series) });
      }
    });
    for (const { id, damaged } of packs.values()) {
      const pack = packOf.get(id);
      if (pack === undefined) continue;
      keepPack.run(id);
      tables.removePack(id);
      const { chunk, start, end } = pack;
      const sound = soundPart(pack, damaged);
      if (sound !== null) tables.addPack({ chunk, start, end, ...sound });
    }
    const reader = openSeriesRowsReader(writer);
    for (const { end, series, start } of figures) {
      if (series === null) continue;
      keepFigures.run(series, start);
      removeFigures.run(series, start);
      const rows = reader.sealedRows(series, start, end);
      if (rows !== null) tables.setHours({ series, start, end, hours: hourFigures(rows) });
    }
    return { packs: packs.size, figures: figures.length };
  });
}
