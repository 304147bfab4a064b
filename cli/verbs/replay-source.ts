// Where a replay takes its entries from: a span of the embedded store, the journal, or another logger's CSV; batch by
// batch, so that a year needs no more memory than a day.

import { join } from 'node:path';
import { entryMaker } from '../../alerts/watch/replay/entry-maker.ts';
import { wholeJournal } from '../../collector/journal/tail-reader.ts';
import { endOfReadings } from '../../collector/store/newest-instant.ts';
import { openSeriesReader } from '../../collector/store/series-reader.ts';
import type { Connection } from '../../lab/database/database.ts';
import type { Entry } from '../../lab/entry.ts';
import { type RecordedEntry, readRecordedEntries } from '../../lab/database/entry-record.ts';
import { type LabOverTime, probesById } from '../../lab/database/past-lab.ts';
import type { Reading } from '../../lab/reading.ts';
import { type EpochMillis, epochMillis, MILLIS_PER_DAY } from '../../wax/units.ts';
import type { CsvColumns } from './csv-reading.ts';
import { csvLines } from './csv-rows.ts';

export interface ReplaySpan {
  readonly from: EpochMillis;
  /** Exclusive. */
  readonly to: EpochMillis;
}

const USUAL_DAYS = 30;
const MOST_A_DAY = 1_000_000;
const FIRST = epochMillis(0);
const LAST = epochMillis(Date.UTC(2100, 0, 1));

const makerFor = (labAt: LabOverTime, recorded: readonly RecordedEntry[]) =>
  entryMaker({ recorded, gatewayOf: (probe, at) => probesById(labAt(at)).get(probe)?.gateway ?? '' });

/** What was requested; else the thirty days before the end of the readings. Null where there are none. */
export function storeSpan(
  connection: Connection,
  from: EpochMillis | null,
  to: EpochMillis | null,
): ReplaySpan | null {
  const end = to ?? endOfReadings(connection);
  if (end === null) return null;
  return { from: from ?? epochMillis(end - USUAL_DAYS * MILLIS_PER_DAY), to: end };
}

export async function* storeBatches(
  connection: Connection,
  labAt: LabOverTime,
  { from, to }: ReplaySpan,
): AsyncGenerator<readonly Entry[]> {
  const reader = openSeriesReader(connection);
  const make = makerFor(labAt, readRecordedEntries(connection, from, to));
  const probes = connection.prepare<[], string>('SELECT probe FROM series ORDER BY probe').pluck().all();
  for (let start = from; start < to; start = epochMillis(start + MILLIS_PER_DAY)) {
    const day = { from: start, to: epochMillis(Math.min(start + MILLIS_PER_DAY, to)) };
    const readings: Reading[] = [];
    const [first, last] = [probesById(labAt(day.from)), probesById(labAt(day.to))];
    for (const probe of probes.filter((id) => first.has(id) || last.has(id)))
      for (const reading of await reader.raw({ probe, ...day, limit: MOST_A_DAY })) readings.push(reading);
    yield make(readings, day.to);
  }
}

/** Entries as they arrived, with ticks and acts of their own; the newest hours, as it is deleted behind the store. */
export async function* journalBatches(
  folder: string,
  span: Partial<ReplaySpan>,
): AsyncGenerator<readonly Entry[]> {
  const { from = FIRST, to = LAST } = span;
  for (const { entries } of wholeJournal(folder))
    yield entries.filter(({ receivedAt }) => receivedAt >= from && receivedAt < to);
}

/** `connection`: of the data folder, where people's acts of that time are; null without one. */
export async function* csvBatches(
  file: string,
  columns: CsvColumns,
  labAt: LabOverTime,
  span: Partial<ReplaySpan>,
  connection: Connection | null,
  onFault: (line: number, reason: string) => void,
): AsyncGenerator<readonly Entry[]> {
  const { from = FIRST, to = LAST } = span;
  const readings: Reading[] = [];
  for await (const { line, read } of csvLines(file, columns)) {
    if (!read.ok) onFault(line, read.reason);
    else if (read.reading.at >= from && read.reading.at < to) readings.push(read.reading);
  }
  let [oldest, newest] = [LAST, FIRST];
  for (const { at } of readings) {
    if (at < oldest) oldest = at;
    if (at > newest) newest = at;
  }
  const until = epochMillis(newest + 1);
  const acts = connection === null ? [] : readRecordedEntries(connection, oldest, until);
  yield makerFor(labAt, acts)(readings, until);
}

export const journalFolder = (data: string): string => join(data, 'journal');
