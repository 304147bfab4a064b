// Rows of one series over a span, from packs and from the table of fresh readings together. Every call is one look
// at the database; a caller that reads long spans takes them slice by slice and lets others work in between.

import type { Connection } from '../../lab/database/database.ts';
import { MILLIS_PER_DAY } from '../../wax/units.ts';
import { decodeHours, type HourFigures } from './sealed/hour-figures.ts';
import {
  decodeColumn,
  decodeMember,
  type PackDirectory,
  type PackMember,
  type PackPart,
  readDirectory,
} from './sealed/pack.ts';
import { firstFrom, mergeRows, NO_ROWS, type SeriesRows, rowsWithin } from './sealed/series-rows.ts';
import { packChunk } from './series-tables.ts';

/** A sealed span of one series; its readings may have been deleted since. */
export interface SealedSpan {
  readonly start: number;
  /** Exclusive. */
  readonly end: number;
  readonly hours: readonly HourFigures[];
}

export interface SeriesRowsReader {
  /** Fresh and sealed rows of `[from, to)`, which is at most a few days. */
  readonly rows: (series: number, from: number, to: number) => SeriesRows;
  /** Only those in packs; null when no pack has the series there. */
  readonly sealedRows: (series: number, from: number, to: number) => SeriesRows | null;
  readonly freshRows: (series: number, from: number, to: number) => SeriesRows;
  /** The next sealed spans that end after `after` and begin before `to`, at most `most`, oldest first. */
  readonly sealedSpans: (series: number, after: number, to: number, most: number) => readonly SealedSpan[];
  /** The value at exactly that instant; null when there is none. */
  readonly celsiusAt: (series: number, at: number) => number | null;
  /** The first fresh row at or after the instant; null when there is none. */
  readonly firstFresh: (series: number, from: number) => number | null;
}

/** A report reads the same days twice; a gateway that sends again has one series read after the other. */
const REMEMBERED_ROWS = 64;
/** Columns of times, which the probes of one gateway read one after the other. */
const REMEMBERED_COLUMNS = 24;

/** Keeps those that were used last. */
function remember<T>(all: Map<string, T>, key: string, value: T, most: number): T {
  all.delete(key);
  all.set(key, value);
  const oldest = all.size > most ? all.keys().next().value : undefined;
  if (oldest !== undefined) all.delete(oldest);
  return value;
}

type PackRow = readonly [id: number, start: number, end: number, directory: Uint8Array];
type FreshRow = readonly [at: number, celsius: number, quality: number];

// biome-ignore lint/complexity/noExcessiveLinesPerFunction: prepared statements beside the reads that use them
export function openSeriesRowsReader(connection: Connection): SeriesRowsReader {
  const packsOf = connection
    .prepare<[number, number, number, number], PackRow>(
      'SELECT id, start, end, directory FROM reading_pack WHERE chunk = ? AND start > ? AND start < ? AND end > ? ORDER BY start',
    )
    .raw();
  const partOf = connection
    .prepare<[number, number, number], Uint8Array>('SELECT substr(body, ?, ?) FROM reading_pack WHERE id = ?')
    .pluck();
  const fresh = connection
    .prepare<[number, number, number], FreshRow>(
      'SELECT at, celsius, quality FROM reading WHERE series = ? AND at >= ? AND at < ? ORDER BY at',
    )
    .raw();
  const freshAt = connection
    .prepare<[number, number], number>('SELECT celsius FROM reading WHERE series = ? AND at = ?')
    .pluck();
  const packBefore = connection
    .prepare<[number, number], readonly [id: number, start: number, end: number]>(
      'SELECT id, start, end FROM reading_pack WHERE chunk = ? AND start <= ? ORDER BY start DESC LIMIT 1',
    )
    .raw();
  const firstFresh = connection
    .prepare<[number, number], number | null>('SELECT min(at) FROM reading WHERE series = ? AND at >= ?')
    .pluck();
  const spans = connection
    .prepare<[number, number, number, number, number], readonly [number, number, Uint8Array]>(
      `SELECT start, end, hours FROM reading_hours
       WHERE series = ? AND start > ? AND start < ? AND end > ? ORDER BY start LIMIT ?`,
    )
    .raw();

  const part = (pack: number, { offset, length }: PackPart): Uint8Array =>
    partOf.get(offset + 1, length, pack) ?? new Uint8Array();
  const columns = new Map<string, Float64Array>();
  const columnOf = (pack: number, { columns: parts }: PackDirectory, member: PackMember): Float64Array => {
    const found = parts[member.column];
    if (found === undefined) return new Float64Array();
    const key = `${pack}:${member.column}`;
    return remember(
      columns,
      key,
      columns.get(key) ?? decodeColumn(part(pack, found), found),
      REMEMBERED_COLUMNS,
    );
  };

  const freshRows: SeriesRowsReader['freshRows'] = (series, from, to) => {
    const found = fresh.all(series, from, to);
    const { length } = found;
    const rows = {
      times: new Float64Array(length),
      values: new Float64Array(length),
      qualities: new Uint8Array(length),
    };
    // Filled in a loop: from() with a function takes five times as long.
    for (let index = 0; index < length; index += 1) {
      const [at = 0, celsius = 0, quality = 0] = found[index] ?? [];
      rows.times[index] = at;
      rows.values[index] = celsius;
      rows.qualities[index] = quality;
    }
    return rows;
  };
  const remembered = new Map<string, SeriesRows>();
  /** Null when the pack does not have the series. */
  const packRows = (pack: number, series: number, bytes: Uint8Array): SeriesRows | null => {
    // A pack that is written anew has another number.
    const key = `${pack}:${series}`;
    const unpacked = remembered.get(key);
    if (unpacked !== undefined) return remember(remembered, key, unpacked, REMEMBERED_ROWS);
    const directory = readDirectory(bytes);
    const member = directory.members.find((candidate) => candidate.series === series);
    if (member === undefined) return null;
    const rows = decodeMember(part(pack, member), member, columnOf(pack, directory, member));
    return remember(remembered, key, rows, REMEMBERED_ROWS);
  };
  const sealedRows: SeriesRowsReader['sealedRows'] = (series, from, to) => {
    let all: SeriesRows | null = null;
    for (const [pack, , , bytes] of packsOf.all(packChunk(series), from - MILLIS_PER_DAY, to, from)) {
      const rows = packRows(pack, series, bytes);
      if (rows !== null) all = mergeRows(all ?? NO_ROWS, rowsWithin(rows, from, to));
    }
    return all;
  };
  const sealedAt = (series: number, at: number): SeriesRows | null => {
    const [, , end = 0] = packBefore.get(packChunk(series), at) ?? [];
    return end <= at ? null : sealedRows(series, at, at + 1);
  };
  return {
    freshRows,
    celsiusAt: (series, at) => {
      const found = freshAt.get(series, at);
      // Where both have the instant, the pack is right.
      const rows = sealedAt(series, at);
      const index = rows === null ? 0 : firstFrom(rows.times, at);
      return rows !== null && rows.times[index] === at ? (rows.values[index] ?? null) : (found ?? null);
    },
    sealedRows,
    rows: (series, from, to) =>
      mergeRows(sealedRows(series, from, to) ?? NO_ROWS, freshRows(series, from, to)),
    sealedSpans: (series, after, to, most) =>
      spans
        .all(series, after - MILLIS_PER_DAY, to, after, most)
        .map(([start, end, hours]) => ({ start, end, hours: decodeHours(hours) })),
    firstFresh: (series, from) => firstFresh.get(series, from) ?? null,
  };
}
