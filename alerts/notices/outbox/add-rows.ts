// How rows enter the outbox: the same change once, a newer notice in place of one that still waits, and in which lane.
// More than ten alarms that are not urgent within ten minutes to one address are gathered into messages.

import type { Connection } from '../../../lab/database/database.ts';
import { type EpochMillis, MILLIS_PER_DAY, MILLIS_PER_MINUTE } from '../../../wax/units.ts';
import { groupLane, isBundle, isFirstNotice, isGroup, isUrgent, PLAIN_LANE, URGENT_LANE } from './lane.ts';
import type { NewRow, OutboxRow, RowKind } from './outbox-row.ts';
import { answerColumn, OUTBOX_COLUMNS, outboxRow, type StoredRow } from './outbox-table.ts';
import { sendAnswer } from './send-answer.ts';

/** Above this many alarms within this time an address gets them together. */
const MOST_SINGLY = 10;
const COUNTED_MILLIS = 10 * MILLIS_PER_MINUTE;
/** Time for the rest of a flood to arrive before it is sent. Common practice, no source. */
const GATHER_MILLIS = 5000;
/** Between two gathered messages to one address. Common practice, no source. */
const GROUPS_APART_MILLIS = 2 * MILLIS_PER_MINUTE;
const KEEP_MILLIS = 30 * MILLIS_PER_DAY;

interface OutboxWrites {
  readonly exists: (key: string) => boolean;
  readonly put: (row: NewRow, lane: string) => void;
  /** Calls of the last ten minutes to the same address that are not urgent. */
  readonly recentCalls: (row: NewRow) => readonly OutboxRow[];
  readonly ofTopic: (row: NewRow) => readonly OutboxRow[];
  readonly withdraw: (row: OutboxRow, at: EpochMillis, why: 'replaced' | 'settled') => void;
  readonly move: (row: OutboxRow, lane: string, nextAt: EpochMillis) => void;
  readonly deleteBefore: (at: EpochMillis) => void;
}

function outboxWrites(writer: Connection): OutboxWrites {
  const insert = writer.prepare(
    `INSERT INTO outbox (key, channel, address, person, topic, lane, kind, body, created_at, next_at, expires_at)
     VALUES (@key, @channel, @address, @person, @topic, @lane, @kind, @body, @createdAt, @nextAt, @expiresAt)
     ON CONFLICT (key) DO NOTHING`,
  );
  const existing = writer.prepare<[string], number>('SELECT 1 FROM outbox WHERE key = ?').pluck();
  const recentCalls = writer.prepare<[string, string, number], StoredRow>(
    `SELECT ${OUTBOX_COLUMNS} FROM outbox WHERE channel = ? AND address = ? AND created_at > ?
     AND kind IN ('raised', 'still-open', 'learned') AND (lane = '' OR lane LIKE 'group.%') ORDER BY number`,
  );
  const ofTopic = writer.prepare<[string, string, string], StoredRow>(
    `SELECT ${OUTBOX_COLUMNS} FROM outbox WHERE channel = ? AND address = ? AND topic = ? ORDER BY number`,
  );
  const withdraw = writer.prepare(
    "UPDATE outbox SET state = 'withdrawn', ended_at = ?, detail = ? WHERE number = ?",
  );
  const move = writer.prepare('UPDATE outbox SET lane = ?, next_at = ? WHERE number = ?');
  const deleteBefore = writer.prepare(
    "DELETE FROM outbox WHERE created_at < ? AND state NOT IN ('waiting', 'sending')",
  );
  return {
    exists: (key) => existing.get(key) !== undefined,
    put: (row, lane) => {
      insert.run({ ...row, lane, body: JSON.stringify(row.body) });
    },
    recentCalls: ({ channel, address, createdAt }) =>
      recentCalls.all(channel, address, createdAt - COUNTED_MILLIS).map(outboxRow),
    ofTopic: ({ channel, address, topic }) => ofTopic.all(channel, address, topic).map(outboxRow),
    withdraw: ({ number }, at, why) => {
      withdraw.run(at, answerColumn(sendAnswer(why)), number);
    },
    move: ({ number }, lane, nextAt) => {
      move.run(lane, nextAt, number);
    },
    deleteBefore: (at) => {
      deleteBefore.run(at);
    },
  };
}

const isUntried = ({ state, attempts }: OutboxRow): boolean => state === 'waiting' && attempts === 0;

interface Place {
  readonly lane: string;
  readonly nextAt: EpochMillis;
}

/** Of a call that is not urgent: alone, or gathered with others into one message. */
function placeOfCall(row: NewRow, writes: OutboxWrites): Place {
  const recent = writes.recentCalls(row).filter(({ state }) => state !== 'withdrawn');
  const group = recent.filter(({ lane }) => isGroup(lane)).at(-1);
  if (group !== undefined && isUntried(group)) return group;
  const singles = recent.filter(({ lane }) => lane === PLAIN_LANE);
  if (group === undefined && singles.length < MOST_SINGLY) return { lane: PLAIN_LANE, nextAt: row.nextAt };
  const lane = groupLane(row.key);
  const nextAt = Math.max(
    row.createdAt + GATHER_MILLIS,
    group === undefined ? 0 : group.createdAt + GROUPS_APART_MILLIS,
  ) as EpochMillis;
  for (const single of singles.filter(isUntried)) writes.move(single, lane, nextAt);
  return { lane, nextAt };
}

/** A later word about an alarm goes with those that its first notice went with. */
function placeOfFollowUp(row: NewRow, last: OutboxRow | undefined): Place {
  if (last === undefined || !isBundle(last.lane)) return { lane: PLAIN_LANE, nextAt: row.nextAt };
  const nextAt = last.state === 'waiting' ? Math.max(last.nextAt, row.nextAt) : row.nextAt;
  return { lane: last.lane, nextAt: nextAt as EpochMillis };
}

function placeOf(row: NewRow, earlier: readonly OutboxRow[], writes: OutboxWrites): Place {
  if (isUrgent(row.kind, row.body.alarm, row.person)) return { lane: URGENT_LANE, nextAt: row.nextAt };
  if (row.person === null) return { lane: PLAIN_LANE, nextAt: row.nextAt };
  return isFirstNotice(row.kind) ? placeOfCall(row, writes) : placeOfFollowUp(row, earlier.at(-1));
}

/** Somebody has seen it or nothing is to be done any more: whoever was not called needs no notice of that. */
const isSettled = (kind: RowKind): boolean => kind === 'acknowledged' || kind === 'put-aside';

function putRow(row: NewRow, writes: OutboxWrites): void {
  // Each line to a webhook and to the broker is a change of its own; people and lamps are notified of the state of an alarm.
  const isOfAlarm = row.body.alarm !== null && (row.person !== null || row.channel === 'lamp');
  const earlier = isOfAlarm ? writes.ofTopic(row) : [];
  // Whoever got no notice of an alarm needs none of its end.
  if (isOfAlarm && !isFirstNotice(row.kind) && earlier.length === 0) return;
  const wasNeverTried = isSettled(row.kind) && earlier.every(({ attempts }) => attempts === 0);
  // What waits would arrive after what is known now: the newer notice holds its state, and that it is over.
  for (const notice of earlier.filter(({ state }) => state === 'waiting'))
    writes.withdraw(notice, row.createdAt, wasNeverTried ? 'settled' : 'replaced');
  if (wasNeverTried) return;
  const { lane, nextAt } = placeOf(row, earlier, writes);
  writes.put({ ...row, nextAt }, lane);
}

/** Returns a function that adds rows, to be run in the caller's transaction. */
export function rowAdder(writer: Connection): (rows: readonly NewRow[]) => void {
  const writes = outboxWrites(writer);
  return (rows) => {
    for (const row of rows) {
      if (!writes.exists(row.key)) putRow(row, writes);
    }
    const [first] = rows;
    if (first !== undefined) writes.deleteBefore((first.createdAt - KEEP_MILLIS) as EpochMillis);
  };
}
