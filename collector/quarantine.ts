// What could not be taken, gathered: one row for a topic and a reason, so that a gateway that errs every second
// fills one row and not the disk. Pure; whoever owns the database keeps the rows.

import type { EpochMillis } from '../wax/units.ts';
import type { Rejection } from './decode/rejection.ts';

/** The newest example, and how many there were. */
export interface QuarantineRow extends Omit<Rejection, 'at' | 'times'> {
  readonly count: number;
  readonly firstAt: EpochMillis;
  readonly lastAt: EpochMillis;
}

/** Rows by topic and code, least recently met first. */
export type Quarantine = ReadonlyMap<string, QuarantineRow>;

const QUARANTINE_ROWS = 500;

const keyOf = (row: { readonly topic: string; readonly code: string }): string => `${row.code} ${row.topic}`;

export const quarantineFrom = (rows: readonly QuarantineRow[]): Quarantine =>
  new Map([...rows].sort((a, b) => a.lastAt - b.lastAt).map((row) => [keyOf(row), row]));

export interface QuarantineStep {
  readonly quarantine: Quarantine;
  /** Rows to write, each whole. */
  readonly changed: readonly QuarantineRow[];
  /** Rows that gave way because there are too many. */
  readonly gone: readonly QuarantineRow[];
}

/** Counts the rejections in; the row met longest ago gives way when there are more than `most`. */
export const quarantineStep = (
  quarantine: Quarantine,
  rejections: readonly Rejection[],
  most: number = QUARANTINE_ROWS,
): QuarantineStep => {
  const rows = new Map(quarantine);
  const changed = new Map<string, QuarantineRow>();
  for (const { at, times = 1, ...rejection } of rejections) {
    const key = keyOf(rejection);
    const before = rows.get(key);
    const row: QuarantineRow = {
      ...rejection,
      count: (before?.count ?? 0) + times,
      firstAt: before?.firstAt ?? at,
      lastAt: at,
    };
    // Deleted first, so that the map stays ordered by when a row was last met.
    rows.delete(key);
    rows.set(key, row);
    changed.set(key, row);
  }
  const gone: QuarantineRow[] = [];
  for (const [key, row] of rows) {
    if (rows.size <= most) break;
    rows.delete(key);
    if (quarantine.has(key)) gone.push(quarantine.get(key) ?? row);
    changed.delete(key);
  }
  return { quarantine: rows, changed: [...changed.values()], gone };
};
