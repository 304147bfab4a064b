// Reads every pack and every figure of an hour and reports what does not hold: a checksum, a part that cannot be
// decoded, figures that are not those of the readings. It changes nothing.

import { type Connection, hasTable } from '../../lab/database/database.ts';
import { reasonOf } from '../../wax/problem-error.ts';
import { DamagedReadings } from './sealed/damaged-readings.ts';
import { hourFigures, type HourFigures, decodeHours } from './sealed/hour-figures.ts';
import {
  checkPack,
  decodeColumn,
  decodeMember,
  type Pack,
  type PackPart,
  readDirectory,
} from './sealed/pack.ts';
import type { SeriesRows } from './sealed/series-rows.ts';

export interface SeriesFault {
  readonly kind: 'directory' | 'times' | 'readings' | 'figures' | 'outside-span';
  /** Null: of figures without a pack. */
  readonly pack: number | null;
  /** Null where a part of all probes of the pack is damaged. */
  readonly series: number | null;
  /** Id of the probe; null where a part of all probes of the pack is damaged. */
  readonly probe: string | null;
  /** Milliseconds since 1970; what is damaged lies in `[start, end)`. */
  readonly start: number;
  readonly end: number;
  readonly reason: string;
}

export interface SeriesCount {
  readonly packs: number;
  readonly readings: number;
}

interface PackRow {
  readonly id: number;
  readonly start: number;
  readonly end: number;
  readonly directory: Uint8Array;
  readonly body: Uint8Array;
}

/** Calls `onFault` for each fault and returns how much was read. */
export function verifySeries(connection: Connection, onFault: (fault: SeriesFault) => void): SeriesCount {
  const ids = connection
    .prepare<[], number>('SELECT id FROM reading_pack ORDER BY start, chunk')
    .pluck()
    .all();
  const packOf = connection.prepare<[number], PackRow>(
    'SELECT id, start, end, directory, body FROM reading_pack WHERE id = ?',
  );
  const probeOf = connection.prepare<[number], string>('SELECT probe FROM series WHERE id = ?').pluck();
  const hoursOf = connection
    .prepare<[number, number], Uint8Array>('SELECT hours FROM reading_hours WHERE series = ? AND start = ?')
    .pluck();
  let readings = 0;
  for (const id of ids) {
    const pack = packOf.get(id);
    // Sealed anew or deleted since the list was made.
    if (pack === undefined) continue;
    readings += verifyPack(pack, {
      probe: (series) => probeOf.get(series) ?? String(series),
      hours: (series) => {
        const bytes = hoursOf.get(series, pack.start);
        return bytes === undefined ? null : decodeHours(bytes);
      },
      onFault,
    });
  }
  verifyFigures(connection, probeOf, onFault);
  return { packs: ids.length, readings };
}

/** Of every row of figures, also where its readings are gone. */
function verifyFigures(
  connection: Connection,
  probeOf: { get(series: number): string | undefined },
  onFault: (fault: SeriesFault) => void,
): void {
  const all = connection.prepare<[], { series: number; start: number; end: number; hours: Uint8Array }>(
    'SELECT series, start, end, hours FROM reading_hours ORDER BY start, series',
  );
  for (const { series, start, end, hours } of all.iterate())
    try {
      decodeHours(hours);
    } catch (error) {
      const probe = probeOf.get(series) ?? String(series);
      onFault({ kind: 'figures', pack: null, series, probe, start, end, reason: reasonIn(error) });
    }
}

const reasonIn = (error: unknown): string =>
  error instanceof DamagedReadings ? error.reason : reasonOf(error);

/**
 * By the checksums alone, for a copy that is to be restored one day.
 * @throws DamagedReadings at the first pack or figures that are damaged
 */
export function checkSeries(connection: Connection): void {
  if (!hasTable(connection, 'reading_pack')) return;
  for (const pack of connection.prepare<[], Pack>('SELECT directory, body FROM reading_pack').iterate())
    checkPack(pack);
  for (const hours of connection.prepare<[], Uint8Array>('SELECT hours FROM reading_hours').pluck().iterate())
    decodeHours(hours);
}

interface Surroundings {
  readonly probe: (series: number) => string;
  /** Null when there are none of this span. */
  readonly hours: (series: number) => readonly HourFigures[] | null;
  readonly onFault: (fault: SeriesFault) => void;
}

function verifyPack(
  { id, start, end, directory, body }: PackRow,
  { probe, hours, onFault }: Surroundings,
): number {
  const fault = (kind: SeriesFault['kind'], series: number | null, reason: string): null => {
    const name = series === null ? null : probe(series);
    onFault({ kind, pack: id, series, probe: name, start, end, reason });
    return null;
  };
  const attempt = <T>(kind: SeriesFault['kind'], series: number | null, work: () => T): T | null => {
    try {
      return work();
    } catch (error) {
      return fault(kind, series, reasonIn(error));
    }
  };
  const bytesOf = ({ offset, length }: PackPart): Uint8Array => body.subarray(offset, offset + length);
  const parts = attempt('directory', null, () => readDirectory(directory));
  if (parts === null) return 0;
  const filled = [...parts.columns, ...parts.members].reduce((sum, { length }) => sum + length, 0);
  if (filled !== body.length) fault('directory', null, `its parts take ${filled} of ${body.length} bytes`);
  const columns = new Map<number, Float64Array>();
  const columnOf = (index: number): Float64Array => {
    const part = parts.columns[index] ?? { offset: 0, length: 0, checksum: 0 };
    const column = columns.get(index) ?? decodeColumn(bytesOf(part), part);
    columns.set(index, column);
    return column;
  };
  let readings = 0;
  for (const member of parts.members) {
    const { series } = member;
    const column = attempt('times', series, () => columnOf(member.column));
    const rows =
      column === null
        ? null
        : attempt('readings', series, () => decodeMember(bytesOf(member), member, column));
    if (rows === null) continue;
    readings += rows.times.length;
    if (rows.times.length !== member.count || rows.values.length !== member.count)
      fault('readings', series, `${rows.values.length} of ${member.count} readings`);
    if ((rows.times[0] ?? start) < start || (rows.times.at(-1) ?? start) >= end)
      fault('outside-span', series, 'an instant lies outside the span of its pack');
    // Those that cannot be read are named with all figures.
    const figures = readFigures(() => hours(series));
    if (figures !== undefined && !areOf(figures ?? [], rows))
      fault('figures', series, 'figures of hours differ from the readings');
  }
  return readings;
}

function readFigures<T>(read: () => T): T | undefined {
  try {
    return read();
  } catch (error) {
    if (error instanceof DamagedReadings) return undefined;
    throw error;
  }
}

/** Figures may be of more readings, of which some were deleted or set aside since. */
function areOf(figures: readonly HourFigures[], rows: SeriesRows): boolean {
  const byStart = new Map(figures.map((hour) => [hour.start, hour]));
  return hourFigures(rows).every((hour) => {
    const stored = byStart.get(hour.start);
    if (stored === undefined || stored.count < hour.count) return false;
    if (stored.count > hour.count) return stored.min <= hour.min && stored.max >= hour.max;
    return FIGURES.every((name) => stored[name] === hour[name]);
  });
}
const FIGURES = ['doubtful', 'min', 'max', 'sum', 'first', 'last'] as const;
