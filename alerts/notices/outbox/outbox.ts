// The outbox in the database: written in the transaction that steps the alarm, read by the runner.

import type { LabDatabase } from '../../../lab/database/database.ts';
import type { EpochMillis } from '../../../wax/units.ts';
import type { Alarm } from '../../watch/life/alarm.ts';
import { rowAdder } from './add-rows.ts';
import type { Channel, NewRow, OutboxRow, OutboxState } from './outbox-row.ts';
import {
  answerColumn,
  OUTBOX_COLUMNS,
  OUTBOX_STEPS,
  outboxRow,
  cacheBodies,
  rowWith,
  type StoredRow,
} from './outbox-table.ts';
import type { SendAnswer } from './send-answer.ts';

export interface Outbox {
  /** To be run in the caller's transaction. */
  readonly add: (rows: readonly NewRow[]) => void;
  /**
   * What may go next: the oldest open row of each lane of each address, and every urgent one that waits; none that
   * an older row about the same alarm is before.
   */
  readonly heads: () => readonly OutboxRow[];
  /** All rows of the lane of an address, oldest first. */
  readonly ofLane: (row: Pick<OutboxRow, 'channel' | 'address' | 'lane'>) => readonly OutboxRow[];
  /** Older rows about the same alarm to the same address, oldest first. */
  readonly before: (row: OutboxRow) => readonly OutboxRow[];
  /** Rows by their numbers; those that are no more are left out. */
  readonly byNumber: (numbers: readonly number[]) => readonly OutboxRow[];
  /**
   * Writes down that tries begin and in which lane each row goes, before they do; on disk when it returns, with all
   * that was committed before.
   */
  readonly begin: (rows: readonly Pick<OutboxRow, 'number' | 'lane'>[]) => void;
  readonly end: (
    numbers: readonly number[],
    state: OutboxState,
    at: EpochMillis,
    answer: SendAnswer | null,
  ) => void;
  readonly retry: (numbers: readonly number[], nextAt: EpochMillis, answer: SendAnswer) => void;
  /** Everything that still waits for an address that no longer exists. */
  readonly withdrawAll: (
    channel: OutboxRow['channel'],
    address: string,
    at: EpochMillis,
    answer: SendAnswer,
  ) => void;
  /** What was on its way when the process ended waits again, marked as a repeat. */
  readonly recover: () => number;
  /** The machine's clock was set back: tries and expiry move along; what waits for an opening waits for that. */
  readonly moveBack: (byMillis: number) => void;
  /** Null when there is no such row. */
  readonly numberOf: (key: string) => number | null;
  readonly newest: (limit: number, state?: OutboxState) => readonly OutboxRow[];
  /** The rows by which persons are to act on this raising of this alarm. */
  readonly toPeople: (alarm: Pick<Alarm, 'id' | 'count'>) => readonly OutboxRow[];
  /** Everything about an alarm, oldest first; what the broker takes for machines is not among it. */
  readonly ofAlarm: (alarm: string) => readonly OutboxRow[];
  /** Creation of the oldest open row of each channel that has one. */
  readonly queueAges: () => readonly {
    readonly channel: Channel;
    readonly count: number;
    readonly since: EpochMillis;
  }[];
  readonly counts: () => Readonly<Record<string, number>>;
}

/** Changes that the broker takes are many and of no interest; those that it does not take, and tests, are shown. */
const SHOWN =
  "(channel <> 'mqtt' OR kind = 'test' OR (attempts > 0 AND state NOT IN ('delivered', 'sending')))";

/** Bodies of rows that wait; more wait only in a flood that lasts. */
const MOST_REMEMBERED = 2000;

export function openOutbox(database: LabDatabase): Outbox {
  database.migrate('outbox', OUTBOX_STEPS);
  const { writer } = database;
  const bodyOfHead = cacheBodies(MOST_REMEMBERED);
  const heads = writer.prepare<[], StoredRow>(
    `SELECT ${OUTBOX_COLUMNS} FROM outbox AS head WHERE state IN ('waiting', 'sending') AND (
         number IN (SELECT min(number) FROM outbox WHERE state IN ('waiting', 'sending') AND lane <> 'urgent'
           GROUP BY channel, address, lane)
         OR (lane = 'urgent' AND state = 'waiting'))
       AND NOT EXISTS (SELECT 1 FROM outbox AS older WHERE older.channel = head.channel
         AND older.address = head.address AND older.topic = head.topic AND older.number < head.number
         AND older.state IN ('waiting', 'sending'))
       ORDER BY number`,
  );
  const ofLane = writer.prepare<[string, string, string], StoredRow>(
    `SELECT ${OUTBOX_COLUMNS} FROM outbox WHERE channel = ? AND address = ? AND lane = ? ORDER BY number`,
  );
  const before = writer.prepare<[string, string, string, number], StoredRow>(
    `SELECT ${OUTBOX_COLUMNS} FROM outbox WHERE channel = ? AND address = ? AND topic = ? AND number < ?
     ORDER BY number`,
  );
  const byNumber = writer.prepare<[string], StoredRow>(
    `SELECT ${OUTBOX_COLUMNS} FROM outbox WHERE number IN (SELECT value FROM json_each(?)) ORDER BY number`,
  );
  const begin = writer.prepare(
    "UPDATE outbox SET state = 'sending', attempts = attempts + 1, lane = ? WHERE number = ?",
  );
  const end = writer.prepare('UPDATE outbox SET state = ?, ended_at = ?, detail = ? WHERE number = ?');
  const retry = writer.prepare(
    "UPDATE outbox SET state = 'waiting', next_at = ?, detail = ? WHERE number = ?",
  );
  const withdraw = writer.prepare(
    "UPDATE outbox SET state = 'withdrawn', ended_at = ?, detail = ? WHERE channel = ? AND address = ? AND state = 'waiting'",
  );
  const recover = writer.prepare(
    "UPDATE outbox SET state = 'waiting', is_repeat = 1 WHERE state = 'sending'",
  );
  const moveBack = writer.prepare(
    `UPDATE outbox SET created_at = created_at - @by, next_at = next_at - @by, expires_at = expires_at - @by
     WHERE state IN ('waiting', 'sending') AND (attempts > 0 OR next_at <= created_at OR lane LIKE 'group.%')`,
  );
  const numberOf = writer.prepare<[string], number>('SELECT number FROM outbox WHERE key = ?').pluck();
  const newest = writer.prepare<[{ state: OutboxState | null; limit: number }], StoredRow>(
    `SELECT ${OUTBOX_COLUMNS} FROM outbox WHERE (@state IS NULL OR state = @state)
     AND ${SHOWN} ORDER BY number DESC LIMIT @limit`,
  );
  const toPeople = writer.prepare<[string], StoredRow>(
    `SELECT ${OUTBOX_COLUMNS} FROM outbox WHERE topic = ? AND person IS NOT NULL
     AND kind IN ('raised', 'still-open') ORDER BY number`,
  );
  const ofAlarm = writer.prepare<[string], StoredRow>(
    `SELECT ${OUTBOX_COLUMNS} FROM outbox WHERE topic = ? AND channel <> 'mqtt' ORDER BY number`,
  );
  const queueAges = writer.prepare<[], { channel: Channel; count: number; since: EpochMillis }>(
    `SELECT channel, count(*) AS count, min(created_at) AS since FROM outbox
     WHERE state IN ('waiting', 'sending') GROUP BY channel`,
  );
  const counts = writer.prepare<[], { state: string; count: number }>(
    `SELECT state, count(*) AS count FROM outbox WHERE ${SHOWN} GROUP BY state`,
  );
  return {
    add: rowAdder(writer),
    heads: () => heads.all().map((row) => rowWith(row, bodyOfHead(row))),
    ofLane: ({ channel, address, lane }) => ofLane.all(channel, address, lane).map(outboxRow),
    before: ({ channel, address, topic, number }) =>
      before.all(channel, address, topic, number).map(outboxRow),
    byNumber: (numbers) => byNumber.all(JSON.stringify(numbers)).map(outboxRow),
    begin: (rows) =>
      database.transaction(() => {
        for (const { number, lane } of rows) begin.run(lane, number);
      }),
    // What a power cut undoes here is tried once more, marked as a repeat: no try is worth waiting for the disk twice.
    end: (numbers, state, at, answer) =>
      database.recomputable(() => {
        for (const number of numbers) end.run(state, at, answerColumn(answer), number);
      }),
    retry: (numbers, nextAt, answer) =>
      database.recomputable(() => {
        for (const number of numbers) retry.run(nextAt, answerColumn(answer), number);
      }),
    withdrawAll: (channel, address, at, answer) => {
      withdraw.run(at, answerColumn(answer), channel, address);
    },
    recover: () => recover.run().changes,
    moveBack: (byMillis) => void moveBack.run({ by: byMillis }),
    numberOf: (key) => numberOf.get(key) ?? null,
    newest: (limit, state) => newest.all({ limit, state: state ?? null }).map(outboxRow),
    toPeople: ({ id, count }) =>
      toPeople
        .all(id)
        .map(outboxRow)
        .filter(({ body: { alarm } }) => alarm?.count === count),
    ofAlarm: (alarm) => ofAlarm.all(alarm).map(outboxRow),
    queueAges: () => queueAges.all(),
    counts: () => Object.fromEntries(counts.all().map(({ state, count }) => [state, count])),
  };
}
