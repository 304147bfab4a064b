// Finds and deletes what is older than it is to stay: series leave their packs, figures of hours their table. A pack at
// a time, each in a transaction of its own.

import { setImmediate as othersTurn } from 'node:timers/promises';
import type { LabDatabase } from '../../lab/database/database.ts';
import { openPackTables } from './pack-tables.ts';
import type { Expiry } from './retention.ts';
import { DamagedReadings } from './sealed/damaged-readings.ts';
import { packWithout, type PackMember, readDirectory } from './sealed/pack.ts';
import { packChunk } from './series-tables.ts';

export interface Expiring {
  readonly probe: string;
  readonly readings: number;
  /** Start of the oldest pack of them, milliseconds since 1970; null when there are none. */
  readonly oldest: number | null;
}

export interface Expired {
  /** What would be deleted, for each probe that would lose readings. */
  readonly find: (expiryOf: (probe: string) => Expiry) => readonly Expiring[];
  readonly remove: (expiryOf: (probe: string) => Expiry, isEnding: () => boolean) => Promise<void>;
}

interface SeriesRow {
  readonly id: number;
  readonly probe: string;
}
interface PackHead {
  readonly id: number;
  readonly chunk: number;
  readonly start: number;
  readonly end: number;
  readonly directory: Uint8Array;
}

/** Of a damaged directory none: its pack stays until it is set aside. */
function membersOf({ directory }: PackHead): readonly PackMember[] {
  try {
    return readDirectory(directory).members;
  } catch (error) {
    if (error instanceof DamagedReadings) return [];
    throw error;
  }
}

export function openExpired(database: LabDatabase): Expired {
  const { writer, transaction } = database;
  const allSeries = writer.prepare<[], SeriesRow>('SELECT id, probe FROM series ORDER BY id');
  const heads = writer.prepare<[number, number], PackHead>(
    'SELECT id, chunk, start, end, directory FROM reading_pack WHERE chunk = ? AND start < ? ORDER BY start',
  );
  const bodyOf = writer.prepare<[number], Uint8Array>('SELECT body FROM reading_pack WHERE id = ?').pluck();
  const tables = openPackTables(writer);
  const removeHours = writer.prepare<[number, number]>(
    'DELETE FROM reading_hours WHERE series = ? AND end <= ?',
  );

  /** Packs that hold something to be deleted, with the series that leave them. */
  function* leavingPacks(
    expiryOf: (probe: string) => Expiry,
  ): Generator<{ readonly pack: PackHead; readonly leaving: ReadonlySet<number> }> {
    const chunks = new Map<number, Map<number, number>>();
    for (const { id, probe } of allSeries.all()) {
      const { readingsBefore } = expiryOf(probe);
      if (!Number.isFinite(readingsBefore)) continue;
      const chunk = chunks.get(packChunk(id)) ?? new Map<number, number>();
      chunks.set(packChunk(id), chunk.set(id, readingsBefore));
    }
    for (const [chunk, before] of chunks)
      for (const pack of heads.all(chunk, Math.max(...before.values()))) {
        const leaving = membersOf(pack)
          .map(({ series }) => series)
          .filter((series) => pack.end <= (before.get(series) ?? Number.NEGATIVE_INFINITY));
        if (leaving.length > 0) yield { pack, leaving: new Set(leaving) };
      }
  }

  return {
    find: (expiryOf) => {
      const probes = new Map(allSeries.all().map(({ id, probe }) => [id, probe]));
      const found = new Map<string, { readings: number; oldest: number | null }>();
      for (const { pack, leaving } of leavingPacks(expiryOf))
        for (const { series, count } of membersOf(pack)) {
          if (!leaving.has(series)) continue;
          const probe = probes.get(series) ?? String(series);
          const before = found.get(probe) ?? { readings: 0, oldest: pack.start };
          found.set(probe, { ...before, readings: before.readings + count });
        }
      return [...found].map(([probe, { readings, oldest }]) => ({ probe, readings, oldest }));
    },
    remove: async (expiryOf, isEnding) => {
      for (const { pack, leaving } of [...leavingPacks(expiryOf)]) {
        if (isEnding()) return;
        const body = bodyOf.get(pack.id);
        if (body === undefined) continue;
        const rest = packWithout({ directory: pack.directory, body }, leaving);
        transaction(() => {
          // Under a new number, so that no reader takes what it has cached of the old one for this.
          tables.removePack(pack.id);
          if (rest !== null) tables.addPack({ chunk: pack.chunk, start: pack.start, end: pack.end, ...rest });
        });
        await othersTurn();
      }
      for (const { id, probe } of allSeries.all()) {
        const { hoursBefore } = expiryOf(probe);
        if (Number.isFinite(hoursBefore)) transaction(() => removeHours.run(id, hoursBefore));
      }
    },
  };
}
