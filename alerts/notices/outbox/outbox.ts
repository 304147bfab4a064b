// The outbox in the database: written in the transaction that steps the alarm, read by the runner. The single place
// that knows its table. More than ten alarms within ten minutes to one address become one notice.

import type { Connection, LabDatabase } from '../../../lab/database.ts';
import { type EpochMillis, MILLIS_PER_DAY, MILLIS_PER_MINUTE } from '../../../wax/units.ts';
import type { Alarm } from '../../watch/life/alarm.ts';
import { PRIORITIES } from '../../watch/rule/rule-kind.ts';
import type { NewRow, OutboxBody, OutboxRow, OutboxState } from './outbox-row.ts';

const STEPS = [
  `CREATE TABLE outbox (
     number INTEGER PRIMARY KEY AUTOINCREMENT, key TEXT NOT NULL UNIQUE, channel TEXT NOT NULL, address TEXT NOT NULL,
     person TEXT, topic TEXT NOT NULL, kind TEXT NOT NULL, body TEXT NOT NULL, state TEXT NOT NULL DEFAULT 'waiting',
     attempts INTEGER NOT NULL DEFAULT 0, created_at INTEGER NOT NULL, next_at INTEGER NOT NULL,
     expires_at INTEGER NOT NULL, ended_at INTEGER, is_repeat INTEGER NOT NULL DEFAULT 0, detail TEXT NOT NULL DEFAULT '');
   CREATE INDEX outbox_open ON outbox (channel, address, number) WHERE state IN ('waiting', 'sending');
   CREATE INDEX outbox_address ON outbox (channel, address, created_at);`,
];

/** Above this many alarms within this time an address hears of them as one. */
const MOST_SINGLY = 10;
const GROUP_MILLIS = 10 * MILLIS_PER_MINUTE;
/** Time for the rest of a flood to arrive before it is told. */
const GATHER_MILLIS = 5000;
/** Told only after a first notice of the same alarm. */
const FOLLOWS: readonly NewRow['kind'][] = ['cleared', 'acknowledged', 'put-aside', 'still-open'];
const KEPT_MILLIS = 30 * MILLIS_PER_DAY;

interface Stored extends Omit<OutboxRow, 'body' | 'isRepeat'> {
  readonly body: string;
  readonly isRepeat: 0 | 1;
}
const rowOf = (stored: Stored): OutboxRow => ({
  ...stored,
  body: JSON.parse(stored.body) as OutboxBody,
  isRepeat: stored.isRepeat === 1,
});
const COLUMNS = `number, key, channel, address, person, topic, kind, body, state, attempts, created_at AS createdAt,
  next_at AS nextAt, expires_at AS expiresAt, ended_at AS endedAt, is_repeat AS isRepeat, detail`;

export interface Outbox {
  /** To be run in a transaction of the caller's. */
  readonly add: (rows: readonly NewRow[]) => void;
  /** Heads of the queues: the oldest open row of each address, so that order is kept. */
  readonly heads: () => readonly OutboxRow[];
  /** Writes down that tries begin, before they do; on disk when it returns, with all that was committed before. */
  readonly begin: (numbers: readonly number[]) => void;
  readonly end: (number: number, state: OutboxState, at: EpochMillis, detail: string) => void;
  readonly again: (number: number, nextAt: EpochMillis, detail: string) => void;
  /** Everything that still waits for an address that is no more. */
  readonly withdrawAll: (
    channel: OutboxRow['channel'],
    address: string,
    at: EpochMillis,
    detail: string,
  ) => void;
  /** What was on its way when the process ended waits again, marked as a repeat. */
  readonly recover: () => number;
  readonly newest: (limit: number, state?: OutboxState) => readonly OutboxRow[];
  /** The lines to persons that told, or are to tell, this coming of this alarm, alone or with others. */
  readonly toPeople: (alarm: Pick<Alarm, 'id' | 'count' | 'raisedAt'>) => readonly OutboxRow[];
  readonly counts: () => Readonly<Record<string, number>>;
}

export function openOutbox(database: LabDatabase): Outbox {
  database.migrate('outbox', STEPS);
  const { writer } = database;
  const heads = writer.prepare<[], Stored>(
    `SELECT ${COLUMNS} FROM outbox WHERE number IN
       (SELECT min(number) FROM outbox WHERE state IN ('waiting', 'sending') GROUP BY channel, address) ORDER BY number`,
  );
  const begin = writer.prepare(
    "UPDATE outbox SET state = 'sending', attempts = attempts + 1 WHERE number = ?",
  );
  const end = writer.prepare('UPDATE outbox SET state = ?, ended_at = ?, detail = ? WHERE number = ?');
  const again = writer.prepare(
    "UPDATE outbox SET state = 'waiting', next_at = ?, detail = ? WHERE number = ?",
  );
  const withdraw = writer.prepare(
    "UPDATE outbox SET state = 'withdrawn', ended_at = ?, detail = ? WHERE channel = ? AND address = ? AND state = 'waiting'",
  );
  const recover = writer.prepare(
    "UPDATE outbox SET state = 'waiting', is_repeat = 1 WHERE state = 'sending'",
  );
  const newest = writer.prepare<[{ state: OutboxState | null; limit: number }], Stored>(
    `SELECT ${COLUMNS} FROM outbox WHERE @state IS NULL OR state = @state ORDER BY number DESC LIMIT @limit`,
  );
  const toPeople = writer.prepare<[number, string], Stored>(
    `SELECT ${COLUMNS} FROM outbox WHERE channel IN ('push', 'mail') AND created_at >= ?
     AND (topic = ? OR kind = 'group') AND kind IN ('raised', 'still-open', 'group') ORDER BY number`,
  );
  const counts = writer.prepare<[], { state: string; count: number }>(
    'SELECT state, count(*) AS count FROM outbox GROUP BY state',
  );
  const addAll = adder(writer);
  return {
    add: addAll,
    heads: () => heads.all().map(rowOf),
    begin: (numbers) =>
      database.transaction(() => {
        for (const number of numbers) begin.run(number);
      }),
    // What a power cut undoes here is tried once more, marked as a repeat: no try is worth waiting for the disk twice.
    end: (number, state, at, detail) =>
      database.recomputable(() => {
        end.run(state, at, detail, number);
      }),
    again: (number, nextAt, detail) =>
      database.recomputable(() => {
        again.run(nextAt, detail, number);
      }),
    withdrawAll: (channel, address, at, detail) => {
      withdraw.run(at, detail, channel, address);
    },
    recover: () => recover.run().changes,
    newest: (limit, state) => newest.all({ limit, state: state ?? null }).map(rowOf),
    toPeople: ({ id, count, raisedAt }) =>
      toPeople
        .all(raisedAt, id)
        .map(rowOf)
        .filter(({ body: { alarm, grouped = [alarm] } }) =>
          grouped.some((one) => one?.id === id && one.count === count),
        ),
    counts: () => Object.fromEntries(counts.all().map(({ state, count }) => [state, count])),
  };
}

const graverFirst = (one: Alarm, other: Alarm): number =>
  PRIORITIES.indexOf(one.priority) - PRIORITIES.indexOf(other.priority) || one.raisedAt - other.raisedAt;

function adder(writer: Connection): (rows: readonly NewRow[]) => void {
  const insert = writer.prepare(
    `INSERT INTO outbox (key, channel, address, person, topic, kind, body, created_at, next_at, expires_at)
     VALUES (@key, @channel, @address, @person, @topic, @kind, @body, @createdAt, @nextAt, @expiresAt)
     ON CONFLICT (key) DO NOTHING`,
  );
  const known = writer.prepare<[string], number>('SELECT 1 FROM outbox WHERE key = ?').pluck();
  const recent = writer.prepare<[string, string, number], Stored>(
    `SELECT ${COLUMNS} FROM outbox WHERE channel = ? AND address = ? AND created_at > ? AND kind IN ('raised', 'group')
     ORDER BY number`,
  );
  const ofTopic = writer.prepare<[string, string, string], Stored>(
    `SELECT ${COLUMNS} FROM outbox WHERE channel = ? AND address = ? AND topic = ? ORDER BY number`,
  );
  const end = writer.prepare(
    "UPDATE outbox SET state = 'withdrawn', ended_at = ?, detail = ? WHERE number = ?",
  );
  const grow = writer.prepare('UPDATE outbox SET body = ? WHERE number = ?');
  const forget = writer.prepare(
    "DELETE FROM outbox WHERE created_at < ? AND state NOT IN ('waiting', 'sending')",
  );
  const put = (row: NewRow): void => {
    insert.run({ ...row, body: JSON.stringify(row.body) });
  };

  /** True when the row went into a group. */
  const grouped = (row: NewRow): boolean => {
    if (row.body.alarm === null || row.kind !== 'raised') return false;
    const rows = recent.all(row.channel, row.address, row.createdAt - GROUP_MILLIS).map(rowOf);
    const groups = rows.filter(({ kind }) => kind === 'group');
    const singles = rows.filter(({ kind, state }) => kind === 'raised' && state !== 'withdrawn');
    const last = groups.at(-1);
    if (last?.state === 'waiting' && last.attempts === 0) {
      if (last.body.grouped?.some(({ id }) => id === row.topic) !== true)
        grow.run(
          JSON.stringify({
            ...last.body,
            grouped: [...(last.body.grouped ?? []), row.body.alarm].sort(graverFirst),
          }),
          last.number,
        );
      return true;
    }
    if (last === undefined && singles.length < MOST_SINGLY) return false;
    const waiting = singles.filter(({ state, attempts }) => state === 'waiting' && attempts === 0);
    for (const one of waiting) end.run(row.createdAt, 'told in one with others', one.number);
    const alarms = [...waiting.flatMap(({ body }) => body.alarm ?? []), row.body.alarm].sort(graverFirst);
    const nextAt = Math.max(
      row.createdAt + GATHER_MILLIS,
      last === undefined ? 0 : last.createdAt + GROUP_MILLIS,
    );
    put({
      ...row,
      key: `group.${row.key}`,
      kind: 'group',
      topic: 'group',
      body: { at: row.body.at, alarm: null, grouped: alarms },
      nextAt: nextAt as EpochMillis,
    });
    return true;
  };

  return (rows) => {
    for (const row of rows) {
      if (known.get(row.key) !== undefined) continue;
      const forPerson = row.channel === 'push' || row.channel === 'mail';
      if (!forPerson) {
        put(row);
        continue;
      }
      if (grouped(row)) continue;
      if (FOLLOWS.includes(row.kind)) {
        const before = ofTopic.all(row.channel, row.address, row.topic);
        // What was told in one with others needs no single end.
        if (row.kind !== 'still-open' && before.every(({ state }) => state === 'withdrawn')) continue;
        // On a phone the newest word of a topic stands for the older ones; letters are all kept.
        if (row.channel === 'push')
          for (const one of before)
            if (one.state === 'waiting') end.run(row.createdAt, 'replaced by a newer notice', one.number);
      }
      put(row);
    }
    const [first] = rows;
    if (first !== undefined) forget.run(first.createdAt - KEPT_MILLIS);
  };
}
