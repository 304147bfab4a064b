// The table of the outbox and how its rows are read. Nothing outside this folder reads or writes it.

import type { OutboxBody, OutboxRow } from './outbox-row.ts';
import { type SendAnswer, readSendAnswer } from './send-answer.ts';

export const OUTBOX_STEPS = [
  `CREATE TABLE outbox (
     number INTEGER PRIMARY KEY AUTOINCREMENT, key TEXT NOT NULL UNIQUE, channel TEXT NOT NULL, address TEXT NOT NULL,
     person TEXT, topic TEXT NOT NULL, kind TEXT NOT NULL, body TEXT NOT NULL, state TEXT NOT NULL DEFAULT 'waiting',
     attempts INTEGER NOT NULL DEFAULT 0, created_at INTEGER NOT NULL, next_at INTEGER NOT NULL,
     expires_at INTEGER NOT NULL, ended_at INTEGER, is_repeat INTEGER NOT NULL DEFAULT 0, detail TEXT NOT NULL DEFAULT '');
   CREATE INDEX outbox_open ON outbox (channel, address, number) WHERE state IN ('waiting', 'sending');
   CREATE INDEX outbox_address ON outbox (channel, address, created_at);`,
  // Before, a message for many alarms was one row; now each alarm has its own, and rows of one message share a lane.
  `ALTER TABLE outbox ADD COLUMN lane TEXT NOT NULL DEFAULT '';
   INSERT INTO outbox (key, channel, address, person, topic, kind, body, state, attempts, created_at, next_at,
     expires_at, ended_at, is_repeat, detail, lane)
     SELECT many.key || '.' || (json_extract(alarm.value, '$.id')), channel, address, person,
       json_extract(alarm.value, '$.id'), 'raised',
       json_object('at', json_extract(body, '$.at'), 'alarm', json(alarm.value)),
       state, attempts, created_at, next_at, expires_at, ended_at, is_repeat, detail, 'group.' || many.key
     FROM outbox AS many, json_each(many.body, '$.grouped') AS alarm WHERE many.kind = 'group' ORDER BY number;
   DELETE FROM outbox WHERE kind = 'group';
   CREATE INDEX outbox_topic ON outbox (topic, channel, address, number);`,
];

/** A row as SQLite gives it; `detail` is the last answer as JSON, empty before the first. */
export interface StoredRow extends Omit<OutboxRow, 'body' | 'isRepeat' | 'answer'> {
  readonly body: string;
  readonly isRepeat: 0 | 1;
  readonly detail: string;
}

export const OUTBOX_COLUMNS = `number, key, channel, address, person, topic, lane, kind, body, state, attempts,
  created_at AS createdAt, next_at AS nextAt, expires_at AS expiresAt, ended_at AS endedAt, is_repeat AS isRepeat, detail`;

const bodyOf = ({ body }: StoredRow): OutboxBody => JSON.parse(body) as OutboxBody;

/** Due rows are looked through after every try; a body never changes, so it is parsed once. */
export function cacheBodies(most: number): (row: StoredRow) => OutboxBody {
  const bodies = new Map<number, OutboxBody>();
  return (row) => {
    const body = bodies.get(row.number) ?? bodyOf(row);
    if (bodies.size >= most) bodies.clear();
    bodies.set(row.number, body);
    return body;
  };
}

export const outboxRow = (row: StoredRow): OutboxRow => rowWith(row, bodyOf(row));

export const rowWith = ({ isRepeat, detail, ...stored }: StoredRow, body: OutboxBody): OutboxRow => ({
  ...stored,
  body,
  isRepeat: isRepeat === 1,
  answer: readSendAnswer(detail),
});

export const answerColumn = (answer: SendAnswer | null): string =>
  answer === null ? '' : JSON.stringify(answer);
