// The link to the group in the lab's database: its setting, and what has been delivered up to where. Minutes that are
// not delivered are written in the transaction that stores their readings, so that a crash loses none.

import type { Connection, LabDatabase } from '../database/database.ts';
import { type GroupLink, NO_GROUP_LINK } from './group-link.ts';
import { MILLIS_PER_MINUTE } from '../../wax/units.ts';

const STEPS = [
  `CREATE TABLE group_link (id INTEGER PRIMARY KEY CHECK (id = 1), body TEXT NOT NULL, alarm_change INTEGER);
   CREATE TABLE group_minute (at INTEGER PRIMARY KEY, journal_offset INTEGER NOT NULL);
   CREATE TABLE group_record (
     kind TEXT NOT NULL, id TEXT NOT NULL, digest TEXT NOT NULL, PRIMARY KEY (kind, id)
   ) WITHOUT ROWID;`,
  `ALTER TABLE group_link ADD COLUMN day_since INTEGER; ALTER TABLE group_link ADD COLUMN day_due INTEGER;`,
];

/** A minute whose figures are due, and the journal offset of the newest reading in it. */
export interface DueMinute {
  readonly at: number;
  readonly offset: number;
}

export interface GroupLinkTable {
  readonly setting: () => GroupLink;
  /** Charges and patterns are reported anew after it; switched off, nothing waits any more. */
  readonly save: (setting: GroupLink) => void;
  readonly onChange: (listener: () => void) => () => void;
  /**
   * The minutes of these readings, and days that were delivered without them, are due; returns nothing to write while
   * the link is off.
   */
  readonly owe: (
    readings: readonly { readonly at: number }[],
    offset: number,
  ) => readonly ((connection: Connection) => void)[];
  /** A minute that is over at `before` and stored up to `offset`. */
  readonly minute: (which: 'newest' | 'oldest', before: number, offset: number) => DueMinute | null;
  /** It was delivered; what arrived for it meanwhile keeps it due. */
  readonly settle: (minute: DueMinute) => void;
  readonly waitingMinutes: () => number;
  /** Number of the last change of an alarm that was delivered; null before the first start of the link. */
  readonly alarmChange: () => number | null;
  readonly setAlarmChange: (number: number) => void;
  /** An instant of the oldest day whose figures are due; null before the first start of the link. */
  readonly dayDue: () => number | null;
  /** Days that began before it are never due. */
  readonly countDaysFrom: (at: number) => void;
  /** All before `to` was delivered; readings of it that arrived since `dayDue` was called keep it due. */
  readonly settleDay: (due: number, to: number) => void;
  /** Whether the record was delivered in this form. */
  readonly isReported: (kind: string, id: string, digest: string) => boolean;
  readonly setReported: (kind: string, id: string, digest: string) => void;
  /** These records are there: each is reported until its end was delivered, however short its life. */
  readonly follow: (kind: string, ids: readonly string[]) => void;
  /** Its end was delivered. */
  readonly unfollow: (kind: string, id: string) => void;
  readonly followed: (kind: string) => readonly string[];
}

interface Row {
  readonly body: string;
  readonly alarm_change: number | null;
  readonly day_due: number | null;
}

/** Which days are due, in the row of the setting. */
const openDueDays = (writer: Connection) => {
  const countFrom = writer.prepare<[number, number]>('UPDATE group_link SET day_since = ?, day_due = ?');
  const owe = writer.prepare<[number, number]>(
    'UPDATE group_link SET day_due = max(day_since, ?) WHERE day_due > ? AND day_due > day_since',
  );
  const forget = writer.prepare<[]>('UPDATE group_link SET day_since = NULL, day_due = NULL');
  const settle = writer.prepare<[number, number]>('UPDATE group_link SET day_due = ? WHERE day_due = ?');
  /** The oldest reading since the due day was read: its figures may have been worked out without it. */
  let oldestSinceAsked = Infinity;
  return {
    countFrom: (at: number): void => void countFrom.run(at, at),
    forget: (): void => void forget.run(),
    asked: (): void => {
      oldestSinceAsked = Infinity;
    },
    owe: (oldest: number): void => {
      owe.run(oldest, oldest);
      oldestSinceAsked = Math.min(oldestSinceAsked, oldest);
    },
    settle: (due: number, to: number): void => {
      if (oldestSinceAsked >= to) settle.run(to, due);
    },
  };
};

export function openGroupLinkTable(database: LabDatabase): GroupLinkTable {
  database.migrate('lab/group-link', STEPS);
  const { writer } = database;
  const stored = writer.prepare<[], Row>('SELECT body, alarm_change, day_due FROM group_link');
  const saveBody = writer.prepare<[string]>(
    `INSERT INTO group_link (id, body) VALUES (1, ?) ON CONFLICT (id) DO UPDATE SET body = excluded.body`,
  );
  const saveChange = writer.prepare<[number | null]>('UPDATE group_link SET alarm_change = ?');
  const owe = writer.prepare<[number, number]>(
    `INSERT INTO group_minute VALUES (?, ?)
     ON CONFLICT (at) DO UPDATE SET journal_offset = excluded.journal_offset`,
  );
  const days = openDueDays(writer);
  const due = (order: 'DESC' | 'ASC') =>
    writer.prepare<[number, number], DueMinute>(
      `SELECT at, journal_offset AS offset FROM group_minute
       WHERE at < ? AND journal_offset <= ? ORDER BY at ${order} LIMIT 1`,
    );
  const minutes = { newest: due('DESC'), oldest: due('ASC') };
  const settle = writer.prepare<[number, number]>(
    'DELETE FROM group_minute WHERE at = ? AND journal_offset = ?',
  );
  const count = writer.prepare<[], number>('SELECT count(*) FROM group_minute').pluck();
  const digest = writer
    .prepare<[string, string], string>('SELECT digest FROM group_record WHERE kind = ? AND id = ?')
    .pluck();
  const saveDigest = writer.prepare<[string, string, string]>(
    'INSERT OR REPLACE INTO group_record VALUES (?, ?, ?)',
  );
  const follow = writer.prepare<[string, string]>("INSERT OR IGNORE INTO group_record VALUES (?, ?, '')");
  const unfollow = writer.prepare<[string, string]>('DELETE FROM group_record WHERE kind = ? AND id = ?');
  const ids = writer.prepare<[string], string>('SELECT id FROM group_record WHERE kind = ?').pluck();
  const listeners = new Set<() => void>();
  const read = (): GroupLink => {
    const row = stored.get();
    return row === undefined ? NO_GROUP_LINK : { ...NO_GROUP_LINK, ...(JSON.parse(row.body) as GroupLink) };
  };
  let setting = read();
  return {
    setting: () => setting,
    save: (changed) => {
      database.transaction(() => {
        saveBody.run(JSON.stringify(changed));
        writer.exec("UPDATE group_record SET digest = ''");
        if (!changed.isOn) {
          writer.exec('DELETE FROM group_minute');
          writer.exec('DELETE FROM group_record');
          saveChange.run(null);
          days.forget();
        }
        database.afterTransaction(() => {
          setting = read();
          for (const listener of listeners) listener();
        });
      });
    },
    onChange: (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    owe: (readings, offset) => {
      if (!setting.isOn || readings.length === 0) return [];
      const starts = new Set(readings.map(({ at }) => at - (at % MILLIS_PER_MINUTE)));
      return [
        () => {
          for (const at of starts) owe.run(at, offset);
          const oldest = Math.min(...starts);
          days.owe(oldest);
        },
      ];
    },
    minute: (which, before, offset) => minutes[which].get(before - MILLIS_PER_MINUTE + 1, offset) ?? null,
    settle: ({ at, offset }) => void settle.run(at, offset),
    waitingMinutes: () => count.get() ?? 0,
    alarmChange: () => stored.get()?.alarm_change ?? null,
    setAlarmChange: (number) => void saveChange.run(number),
    dayDue: () => {
      days.asked();
      return stored.get()?.day_due ?? null;
    },
    countDaysFrom: days.countFrom,
    settleDay: days.settle,
    isReported: (kind, id, text) => digest.get(kind, id) === text,
    setReported: (kind, id, text) => void saveDigest.run(kind, id, text),
    follow: (kind, followed) =>
      database.transaction(() => {
        for (const id of followed) follow.run(kind, id);
      }),
    unfollow: (kind, id) => void unfollow.run(kind, id),
    followed: (kind) => ids.all(kind),
  };
}
