// How long readings and the figures of hours stay, by station kind; for ever until a person sets a limit. What was
// set takes effect a day later, so that a slip can be undone.

import type { LabDatabase } from '../../lab/database/database.ts';
import { STATION_KINDS, type StationKind } from '../../lab/station-kinds.ts';
import { type EpochMillis, epochMillis, MILLIS_PER_DAY, MILLIS_PER_HOUR } from '../../wax/units.ts';

const STEPS = [
  `CREATE TABLE retention (kind TEXT PRIMARY KEY, readings_days INTEGER, hours_days INTEGER) WITHOUT ROWID;
   CREATE TABLE retention_set (one INTEGER PRIMARY KEY CHECK (one = 1), at INTEGER NOT NULL);`,
  `CREATE TABLE retention_clock (
     one INTEGER PRIMARY KEY CHECK (one = 1), seen_at INTEGER NOT NULL, steady_from INTEGER NOT NULL);`,
];

const RESTS_MILLIS = MILLIS_PER_DAY;
/** How far apart looks at the clock are written down, so that looking writes little. */
const SEEN_STEP_MILLIS = MILLIS_PER_HOUR;

export interface KindRetention {
  readonly kind: StationKind;
  /** Null: for ever. */
  readonly readingsDays: number | null;
  /** Never less than `readingsDays`; null: for ever. */
  readonly hoursDays: number | null;
}

/** What ends before these instants, milliseconds since 1970, is deleted. */
export interface Expiry {
  readonly readingsBefore: number;
  readonly hoursBefore: number;
}

export interface RetentionTable {
  /** One for each kind, in their usual order. */
  readonly kinds: () => readonly KindRetention[];
  /** When what is set begins to delete; null while nothing was ever set. */
  readonly beginsAt: () => EpochMillis | null;
  /**
   * Whether the clock may decide what is old, to be called at each look. One that moved by more than a day since the last
   * look was set, or the program was away: by a clock that is years ahead everything is old, so a day is left to correct it.
   */
  readonly isClockSteady: (now: number) => boolean;
  /** Runs inside the caller's transaction. */
  readonly set: (kinds: readonly KindRetention[], at: EpochMillis) => void;
}

export function openRetention(database: LabDatabase): RetentionTable {
  database.migrate('collector/retention', STEPS);
  const { writer } = database;
  const rows = writer.prepare<[], { kind: string; readings_days: number | null; hours_days: number | null }>(
    'SELECT * FROM retention',
  );
  const setAt = writer.prepare<[], number>('SELECT at FROM retention_set').pluck();
  const save = writer.prepare<[string, number | null, number | null]>(
    'INSERT OR REPLACE INTO retention VALUES (?, ?, ?)',
  );
  const saveAt = writer.prepare<[number]>('INSERT OR REPLACE INTO retention_set VALUES (1, ?)');
  const clock = writer.prepare<[], { seen_at: number; steady_from: number }>(
    'SELECT seen_at, steady_from FROM retention_clock',
  );
  const saveClock = writer.prepare<[number, number]>(
    'INSERT OR REPLACE INTO retention_clock VALUES (1, ?, ?)',
  );
  return {
    isClockSteady: (now) => {
      const before = clock.get();
      if (before === undefined || Math.abs(now - before.seen_at) > RESTS_MILLIS) {
        database.transaction(() => saveClock.run(now, now + RESTS_MILLIS));
        return false;
      }
      const { seen_at: seenAt, steady_from: steadyFrom } = before;
      if (now < seenAt || now - seenAt >= SEEN_STEP_MILLIS)
        database.transaction(() => saveClock.run(now, steadyFrom));
      return now >= steadyFrom;
    },
    kinds: () => {
      const retained = new Map(rows.all().map((row) => [row.kind, row]));
      return STATION_KINDS.map((kind) => ({
        kind,
        readingsDays: retained.get(kind)?.readings_days ?? null,
        hoursDays: retained.get(kind)?.hours_days ?? null,
      }));
    },
    beginsAt: () => {
      const at = setAt.get();
      return at === undefined ? null : epochMillis(at + RESTS_MILLIS);
    },
    set: (kinds, at) => {
      for (const { kind, readingsDays, hoursDays } of kinds) save.run(kind, readingsDays, hoursDays);
      saveAt.run(at);
    },
  };
}

/** Whole days of UTC, as packs are. A probe that hangs nowhere loses nothing. */
export function expiryAt(
  kinds: readonly KindRetention[],
  now: number,
  kindOf: (probe: string) => StationKind | null,
): (probe: string) => Expiry {
  const before = (days: number | null): number =>
    days === null ? Number.NEGATIVE_INFINITY : (Math.floor(now / MILLIS_PER_DAY) - days) * MILLIS_PER_DAY;
  return (probe) => {
    const found = kinds.find(({ kind }) => kind === kindOf(probe));
    const [readings, hours] = [found?.readingsDays ?? null, found?.hoursDays ?? null];
    return { readingsBefore: before(readings), hoursBefore: before(hours) };
  };
}
