// The outbox in the database: written in the transaction that steps the alarm, read by the runner.

import type { LabDatabase } from '../../../lab/database.ts';
import type { EpochMillis } from '../../../wax/units.ts';
import type { Alarm } from '../../watch/life/alarm.ts';
import { rowAdder } from './add-rows.ts';
import type { NewRow, OutboxRow, OutboxState } from './outbox-row.ts';
import { answerColumn, OUTBOX_COLUMNS, OUTBOX_STEPS, outboxRow, type StoredRow } from './outbox-table.ts';
import type { SendAnswer } from './send-answer.ts';

export interface Outbox {
  /** To be run in a transaction of the caller's. */
  readonly add: (rows: readonly NewRow[]) => void;
  /** Heads of the queues: the oldest open row of each address, so that order is kept. */
  readonly heads: () => readonly OutboxRow[];
  /** Writes down that tries begin, before they do; on disk when it returns, with all that was committed before. */
  readonly begin: (numbers: readonly number[]) => void;
  readonly end: (number: number, state: OutboxState, at: EpochMillis, answer: SendAnswer | null) => void;
  readonly retry: (number: number, nextAt: EpochMillis, answer: SendAnswer) => void;
  /** Everything that still waits for an address that no longer exists. */
  readonly withdrawAll: (
    channel: OutboxRow['channel'],
    address: string,
    at: EpochMillis,
    answer: SendAnswer,
  ) => void;
  /** What was on its way when the process ended waits again, marked as a repeat. */
  readonly recover: () => number;
  readonly newest: (limit: number, state?: OutboxState) => readonly OutboxRow[];
  /** The rows to persons about this raising of this alarm, alone or with others. */
  readonly toPeople: (alarm: Pick<Alarm, 'id' | 'count' | 'raisedAt'>) => readonly OutboxRow[];
  readonly counts: () => Readonly<Record<string, number>>;
}

export function openOutbox(database: LabDatabase): Outbox {
  database.migrate('outbox', OUTBOX_STEPS);
  const { writer } = database;
  const heads = writer.prepare<[], StoredRow>(
    `SELECT ${OUTBOX_COLUMNS} FROM outbox WHERE number IN
       (SELECT min(number) FROM outbox WHERE state IN ('waiting', 'sending') GROUP BY channel, address) ORDER BY number`,
  );
  const begin = writer.prepare(
    "UPDATE outbox SET state = 'sending', attempts = attempts + 1 WHERE number = ?",
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
  const newest = writer.prepare<[{ state: OutboxState | null; limit: number }], StoredRow>(
    `SELECT ${OUTBOX_COLUMNS} FROM outbox WHERE @state IS NULL OR state = @state ORDER BY number DESC LIMIT @limit`,
  );
  const toPeople = writer.prepare<[number, string], StoredRow>(
    `SELECT ${OUTBOX_COLUMNS} FROM outbox WHERE channel IN ('push', 'mail') AND created_at >= ?
     AND (topic = ? OR kind = 'group') AND kind IN ('raised', 'still-open', 'group') ORDER BY number`,
  );
  const counts = writer.prepare<[], { state: string; count: number }>(
    'SELECT state, count(*) AS count FROM outbox GROUP BY state',
  );
  return {
    add: rowAdder(writer),
    heads: () => heads.all().map(outboxRow),
    begin: (numbers) =>
      database.transaction(() => {
        for (const number of numbers) begin.run(number);
      }),
    // What a power cut undoes here is tried once more, marked as a repeat: no try is worth waiting for the disk twice.
    end: (number, state, at, answer) =>
      database.recomputable(() => {
        end.run(state, at, answerColumn(answer), number);
      }),
    retry: (number, nextAt, answer) =>
      database.recomputable(() => {
        retry.run(nextAt, answerColumn(answer), number);
      }),
    withdrawAll: (channel, address, at, answer) => {
      withdraw.run(at, answerColumn(answer), channel, address);
    },
    recover: () => recover.run().changes,
    newest: (limit, state) => newest.all({ limit, state: state ?? null }).map(outboxRow),
    toPeople: ({ id, count, raisedAt }) =>
      toPeople
        .all(raisedAt, id)
        .map(outboxRow)
        .filter(({ body: { alarm, grouped = [alarm] } }) =>
          grouped.some((sent) => sent?.id === id && sent.count === count),
        ),
    counts: () => Object.fromEntries(counts.all().map(({ state, count }) => [state, count])),
  };
}
