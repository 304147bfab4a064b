// Reads every pack and every figure of an hour and reports what does not hold: a checksum, a part that cannot be
// decoded, figures that are not those of the readings. It changes nothing.

import type { Connection } from '../../lab/database/database.ts';
import { reasonOf } from '../../wax/problem-error.ts';
import { hourFigures, type HourFigures, decodeHours, encodeHours } from './sealed/hour-figures.ts';
import { decodeColumn, decodeMember, type PackPart, readDirectory } from './sealed/pack.ts';
import type { SeriesRows } from './sealed/series-rows.ts';

export interface SeriesFault {
  readonly kind: 'directory' | 'times' | 'readings' | 'figures' | 'outside-span';
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
  readonly start: number;
  readonly end: number;
  readonly directory: Uint8Array;
  readonly body: Uint8Array;
}

/** Calls `onFault` for each fault and answers how much was read. */
export function verifySeries(connection: Connection, onFault: (fault: SeriesFault) => void): SeriesCount {
  const ids = connection
    .prepare<[], number>('SELECT id FROM reading_pack ORDER BY start, chunk')
    .pluck()
    .all();
  const packOf = connection.prepare<[number], PackRow>(
    'SELECT start, end, directory, body FROM reading_pack WHERE id = ?',
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
  return { packs: ids.length, readings };
}

interface Surroundings {
  readonly probe: (series: number) => string;
  /** Null when there are none of this span. */
  readonly hours: (series: number) => readonly HourFigures[] | null;
  readonly onFault: (fault: SeriesFault) => void;
}

function verifyPack(
  { start, end, directory, body }: PackRow,
  { probe, hours, onFault }: Surroundings,
): number {
  const fault = (kind: SeriesFault['kind'], of: string | null, reason: string): null => {
    onFault({ kind, probe: of, start, end, reason });
    return null;
  };
  const attempt = <T>(kind: SeriesFault['kind'], of: string | null, work: () => T): T | null => {
    try {
      return work();
    } catch (error) {
      return fault(kind, of, reasonOf(error));
    }
  };
  const bytesOf = ({ offset, length }: PackPart): Uint8Array => body.subarray(offset, offset + length);
  const parts = attempt('directory', null, () => readDirectory(directory));
  if (parts === null) return 0;
  const filled = [...parts.columns, ...parts.members].reduce((sum, { length }) => sum + length, 0);
  if (filled !== body.length) fault('directory', null, `its parts take ${filled} of ${body.length} bytes`);
  const columns = parts.columns.map((part) =>
    attempt('times', null, () => decodeColumn(bytesOf(part), part)),
  );
  let readings = 0;
  for (const member of parts.members) {
    const [column, name] = [columns[member.column] ?? null, probe(member.series)];
    const rows =
      column === null ? null : attempt('readings', name, () => decodeMember(bytesOf(member), member, column));
    if (rows === null) continue;
    readings += rows.times.length;
    if (rows.times.length !== member.count || rows.values.length !== member.count)
      fault('readings', name, `${rows.values.length} of ${member.count} readings`);
    if ((rows.times[0] ?? start) < start || (rows.times.at(-1) ?? start) >= end)
      fault('outside-span', name, 'an instant lies outside the span of its pack');
    const figures = attempt('figures', name, () => hours(member.series));
    if (!sameFigures(figures ?? [], rows))
      fault('figures', name, 'figures of hours differ from the readings');
  }
  return readings;
}

const sameFigures = (figures: readonly HourFigures[], rows: SeriesRows): boolean =>
  Buffer.compare(encodeHours(figures), encodeHours(hourFigures(rows))) === 0;
