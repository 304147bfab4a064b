// The packs and the figures of hours as rows: what the sealer, the deletion and the check of the store share.

import type { Connection } from '../../lab/database/database.ts';
import { type HourFigures, decodeHours, encodeHours } from './sealed/hour-figures.ts';
import type { Pack } from './sealed/pack.ts';

export interface StoredPack extends Pack {
  readonly id: number;
  readonly chunk: number;
  readonly start: number;
  /** Exclusive. */
  readonly end: number;
}

export interface StoredHours {
  readonly series: number;
  readonly start: number;
  readonly end: number;
  readonly hours: readonly HourFigures[];
}

export interface PackTables {
  /** Those that lie in `[start, end)`, or around it, oldest first. */
  readonly packs: (chunk: number, start: number, end: number) => readonly StoredPack[];
  readonly addPack: (pack: Omit<StoredPack, 'id'>) => void;
  readonly removePack: (id: number) => void;
  readonly hours: (series: number, start: number, end: number) => readonly HourFigures[];
  /** In place of all that lie in the span. */
  readonly setHours: (hours: StoredHours) => void;
}

export function openPackTables(writer: Connection): PackTables {
  const packs = writer.prepare<[number, number, number], StoredPack>(
    'SELECT id, chunk, start, end, directory, body FROM reading_pack WHERE chunk = ? AND start < ? AND end > ? ORDER BY start',
  );
  const addPack = writer.prepare<[number, number, number, Uint8Array, Uint8Array]>(
    'INSERT INTO reading_pack (chunk, start, end, directory, body) VALUES (?, ?, ?, ?, ?)',
  );
  const removePack = writer.prepare<[number]>('DELETE FROM reading_pack WHERE id = ?');
  const hours = writer
    .prepare<[number, number, number], Uint8Array>(
      'SELECT hours FROM reading_hours WHERE series = ? AND start >= ? AND start < ? ORDER BY start',
    )
    .pluck();
  const removeHours = writer.prepare<[number, number, number]>(
    'DELETE FROM reading_hours WHERE series = ? AND start >= ? AND start < ?',
  );
  const addHours = writer.prepare<[number, number, number, Uint8Array]>(
    'INSERT INTO reading_hours VALUES (?, ?, ?, ?)',
  );
  return {
    packs: (chunk, start, end) => packs.all(chunk, end, start),
    addPack: ({ chunk, start, end, directory, body }) => {
      addPack.run(chunk, start, end, directory, body);
    },
    removePack: (id) => {
      removePack.run(id);
    },
    hours: (series, start, end) => hours.all(series, start, end).flatMap(decodeHours),
    setHours: ({ series, start, end, hours: figures }) => {
      removeHours.run(series, start, end);
      addHours.run(series, start, end, encodeHours(figures));
    },
  };
}
