// How rows enter the outbox: the same change once, a newer notice in place of one that still waits, and more than ten
// alarms within ten minutes to one address as one notice.

import type { Connection } from '../../../lab/database.ts';
import { type EpochMillis, MILLIS_PER_DAY, MILLIS_PER_MINUTE } from '../../../wax/units.ts';
import type { Alarm } from '../../watch/life/alarm.ts';
import { PRIORITIES } from '../../watch/rule/priority.ts';
import type { NewRow, OutboxRow } from './outbox-row.ts';
import { answerColumn, OUTBOX_COLUMNS, outboxRow, type StoredRow } from './outbox-table.ts';
import { type SendAnswerCode, sendAnswer } from './send-answer.ts';

/** Above this many alarms within this time an address gets them as one. */
const MOST_SINGLY = 10;
const GROUP_MILLIS = 10 * MILLIS_PER_MINUTE;
/** Time for the rest of a flood to arrive before it is sent. */
const GATHER_MILLIS = 5000;
/** Sent only after a first notice of the same alarm. */
const FOLLOW_UPS: readonly NewRow['kind'][] = ['cleared', 'acknowledged', 'put-aside', 'still-open'];
const KEEP_MILLIS = 30 * MILLIS_PER_DAY;

const byUrgency = (left: Alarm, right: Alarm): number =>
  PRIORITIES.indexOf(left.priority) - PRIORITIES.indexOf(right.priority) || left.raisedAt - right.raisedAt;

interface OutboxWrites {
  readonly exists: (key: string) => boolean;
  readonly put: (row: NewRow) => void;
  /** Alarms and groups of the last ten minutes to the same address. */
  readonly recent: (row: NewRow) => readonly OutboxRow[];
  readonly ofTopic: (row: NewRow) => readonly OutboxRow[];
  readonly withdraw: (row: OutboxRow, at: EpochMillis, why: SendAnswerCode) => void;
  readonly setBody: (row: OutboxRow, body: OutboxRow['body']) => void;
  readonly deleteBefore: (at: EpochMillis) => void;
}

function outboxWrites(writer: Connection): OutboxWrites {
  const insert = writer.prepare(
    `INSERT INTO outbox (key, channel, address, person, topic, kind, body, created_at, next_at, expires_at)
     VALUES (@key, @channel, @address, @person, @topic, @kind, @body, @createdAt, @nextAt, @expiresAt)
     ON CONFLICT (key) DO NOTHING`,
  );
  const existing = writer.prepare<[string], number>('SELECT 1 FROM outbox WHERE key = ?').pluck();
  const recent = writer.prepare<[string, string, number], StoredRow>(
    `SELECT ${OUTBOX_COLUMNS} FROM outbox WHERE channel = ? AND address = ? AND created_at > ?
     AND kind IN ('raised', 'group') ORDER BY number`,
  );
  const ofTopic = writer.prepare<[string, string, string], StoredRow>(
    `SELECT ${OUTBOX_COLUMNS} FROM outbox WHERE channel = ? AND address = ? AND topic = ? ORDER BY number`,
  );
  const withdraw = writer.prepare(
    "UPDATE outbox SET state = 'withdrawn', ended_at = ?, detail = ? WHERE number = ?",
  );
  const setBody = writer.prepare('UPDATE outbox SET body = ? WHERE number = ?');
  const deleteBefore = writer.prepare(
    "DELETE FROM outbox WHERE created_at < ? AND state NOT IN ('waiting', 'sending')",
  );
  return {
    exists: (key) => existing.get(key) !== undefined,
    put: (row) => {
      insert.run({ ...row, body: JSON.stringify(row.body) });
    },
    recent: ({ channel, address, createdAt }) =>
      recent.all(channel, address, createdAt - GROUP_MILLIS).map(outboxRow),
    ofTopic: ({ channel, address, topic }) => ofTopic.all(channel, address, topic).map(outboxRow),
    withdraw: ({ number }, at, why) => {
      withdraw.run(at, answerColumn(sendAnswer(why)), number);
    },
    setBody: ({ number }, body) => {
      setBody.run(JSON.stringify(body), number);
    },
    deleteBefore: (at) => {
      deleteBefore.run(at);
    },
  };
}

/** True when the row went into a group. */
function putInGroup(row: NewRow, writes: OutboxWrites): boolean {
  const { alarm } = row.body;
  if (alarm === null || row.kind !== 'raised') return false;
  const recent = writes.recent(row);
  const singles = recent.filter(({ kind, state }) => kind === 'raised' && state !== 'withdrawn');
  const lastGroup = recent.filter(({ kind }) => kind === 'group').at(-1);
  if (lastGroup?.state === 'waiting' && lastGroup.attempts === 0) {
    const { grouped = [] } = lastGroup.body;
    if (!grouped.some(({ id }) => id === row.topic))
      writes.setBody(lastGroup, { ...lastGroup.body, grouped: [...grouped, alarm].sort(byUrgency) });
    return true;
  }
  if (lastGroup === undefined && singles.length < MOST_SINGLY) return false;
  const waiting = singles.filter(({ state, attempts }) => state === 'waiting' && attempts === 0);
  for (const single of waiting) writes.withdraw(single, row.createdAt, 'grouped');
  const grouped = [...waiting.flatMap(({ body }) => body.alarm ?? []), alarm].sort(byUrgency);
  const nextAt = Math.max(
    row.createdAt + GATHER_MILLIS,
    lastGroup === undefined ? 0 : lastGroup.createdAt + GROUP_MILLIS,
  );
  writes.put({
    ...row,
    key: `group.${row.key}`,
    kind: 'group',
    topic: 'group',
    body: { at: row.body.at, alarm: null, grouped },
    nextAt: nextAt as EpochMillis,
  });
  return true;
}

function putForPerson(row: NewRow, writes: OutboxWrites): void {
  if (putInGroup(row, writes)) return;
  if (FOLLOW_UPS.includes(row.kind)) {
    const earlier = writes.ofTopic(row);
    // What was sent as one with others needs no end of its own.
    if (row.kind !== 'still-open' && earlier.every(({ state }) => state === 'withdrawn')) return;
    // On a phone the newest notice of a topic stands for the older ones; e-mails are all kept.
    if (row.channel === 'push')
      for (const notice of earlier)
        if (notice.state === 'waiting') writes.withdraw(notice, row.createdAt, 'replaced');
  }
  writes.put(row);
}

/** Answers what adds rows, to be run in a transaction of the caller's. */
export function rowAdder(writer: Connection): (rows: readonly NewRow[]) => void {
  const writes = outboxWrites(writer);
  return (rows) => {
    for (const row of rows) {
      if (writes.exists(row.key)) continue;
      if (row.channel === 'push' || row.channel === 'mail') putForPerson(row, writes);
      else writes.put(row);
    }
    const [first] = rows;
    if (first !== undefined) writes.deleteBefore((first.createdAt - KEEP_MILLIS) as EpochMillis);
  };
}
