// Which span of which series is to be sealed next. An hour is sealed when it is over, a day when it is over, then with
// what its hours hold. A late reading makes its span due again.

import type { Connection } from '../../lab/database/database.ts';
import { MILLIS_PER_DAY, MILLIS_PER_HOUR, MILLIS_PER_MINUTE } from '../../wax/units.ts';
import { SERIES_A_PACK } from './series-tables.ts';

/** Gateways send again what they could not send: most of it is there by then, the rest is late. */
const HOUR_RESTS_MILLIS = 5 * MILLIS_PER_MINUTE;
const DAY_RESTS_MILLIS = MILLIS_PER_HOUR;

export interface DueSpan {
  readonly start: number;
  /** Exclusive. */
  readonly end: number;
}

export interface SealPlan {
  readonly chunks: () => readonly number[];
  /** Series of a chunk that exist. */
  readonly series: (chunk: number) => readonly number[];
  /** The oldest span of the chunk that is due at `now`; null when none is. */
  readonly next: (chunk: number, now: number) => DueSpan | null;
}

const spanAround = (at: number, length: number): DueSpan => {
  const start = Math.floor(at / length) * length;
  return { start, end: start + length };
};

export function openSealPlan(writer: Connection): SealPlan {
  const highest = writer.prepare<[], number | null>('SELECT max(id) FROM series').pluck();
  const seriesBetween = writer
    .prepare<[number, number], number>('SELECT id FROM series WHERE id >= ? AND id < ? ORDER BY id')
    .pluck();
  const oldestFresh = writer
    .prepare<[number], number | null>('SELECT min(at) FROM reading WHERE series = ?')
    .pluck();
  const oldestHourPack = writer
    .prepare<[number], number | null>(
      'SELECT min(start) FROM reading_pack WHERE chunk = ? AND end - start < 86400000',
    )
    .pluck();
  const packAround = writer.prepare<[number, number, number], DueSpan>(
    'SELECT start, end FROM reading_pack WHERE chunk = ? AND start <= ? AND end > ? ORDER BY start DESC LIMIT 1',
  );
  const series: SealPlan['series'] = (chunk) =>
    seriesBetween.all(chunk * SERIES_A_PACK, (chunk + 1) * SERIES_A_PACK);

  const dueAt = (chunk: number, at: number | null | undefined, now: number): DueSpan | null => {
    if (at === null || at === undefined) return null;
    const day = spanAround(at, MILLIS_PER_DAY);
    if (day.end + DAY_RESTS_MILLIS <= now) return day;
    const hour = spanAround(at, MILLIS_PER_HOUR);
    if (hour.end + HOUR_RESTS_MILLIS > now) return null;
    // A clock that was set back since makes no hour beside the day that was sealed.
    return packAround.get(chunk, at, at) ?? hour;
  };

  return {
    series,
    chunks: () => {
      const last = highest.get();
      if (last === null || last === undefined) return [];
      return Array.from({ length: Math.floor(last / SERIES_A_PACK) + 1 }, (_, chunk) => chunk);
    },
    next: (chunk, now) => {
      const hourPack = oldestHourPack.get(chunk) ?? null;
      const fresh = series(chunk).map((id) => oldestFresh.get(id) ?? Infinity);
      const oldest = Math.min(...fresh);
      const due = [
        // A pack of an hour is due again only when its day is over.
        hourPack === null || spanAround(hourPack, MILLIS_PER_DAY).end + DAY_RESTS_MILLIS > now
          ? null
          : spanAround(hourPack, MILLIS_PER_DAY),
        Number.isFinite(oldest) ? dueAt(chunk, oldest, now) : null,
      ].filter((span) => span !== null);
      return due.sort((first, second) => first.start - second.start)[0] ?? null;
    },
  };
}
