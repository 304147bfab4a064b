// Messages of QoS 1 and 2 that wait for the clients of sessions, in the order in which they came. Beyond a limit the oldest
// of the session goes first, since what is newer is how things are now.

import type { LabDatabase } from '../../lab/database/database.ts';
import { problem } from '../../wax/result.ts';
import type { SessionEvents } from './session-list.ts';
import type { SessionLimits } from './session-tables.ts';

/** As the broker's library writes it. */
export interface WaitingMessage {
  readonly cmd: 'publish' | 'pubrel';
  readonly topic: string;
  readonly payload: Buffer | string;
  readonly qos: number;
  readonly retain: false;
  readonly dup: boolean;
  /** Run of the broker, and the number within it, which it gives a message as it passes it on. */
  readonly brokerId: string | null;
  readonly brokerCounter: number | null;
  readonly messageId: number | undefined;
}
/** Not named yet while it waits for its acknowledgement. */
export type QueuedMessage = Pick<WaitingMessage, 'topic' | 'payload' | 'qos'> &
  Partial<Pick<WaitingMessage, 'brokerId' | 'brokerCounter'>>;
export interface Receiver {
  readonly clientId: string;
  /** The most that its subscription requests. */
  readonly qos?: number;
}
export type Release = Pick<WaitingMessage, 'messageId'> & { readonly cmd: 'pubrel' };

interface Row {
  readonly number: number;
  readonly command: 'publish' | 'pubrel';
  readonly topic: string;
  readonly payload: Buffer | string;
  readonly qos: number;
  readonly dup: number;
  readonly broker: string | null;
  readonly counter: number | null;
  readonly message_id: number | null;
}

interface InsertedFor {
  readonly id: string;
  readonly bytes: number;
}

const messageOf = ({ command, message_id, ...row }: Row): WaitingMessage | Release => {
  const messageId = message_id ?? undefined;
  if (command === 'pubrel') return { cmd: command, messageId };
  const { topic, payload, qos, broker, counter } = row;
  // A message for a subscription that stood when it came bears no mark of a retained one (MQTT 3.1.1, 3.3.1-9).
  return {
    cmd: command,
    topic,
    payload,
    qos,
    dup: row.dup === 1,
    retain: false,
    brokerId: broker,
    brokerCounter: counter,
    messageId,
  };
};

export type SessionQueue = ReturnType<typeof sessionQueue>;

export function sessionQueue(
  { writer, transaction }: LabDatabase,
  events: Pick<SessionEvents, 'lost'>,
  limits: SessionLimits,
) {
  const insert = writer.prepare<Omit<Row, 'number' | 'command' | 'dup' | 'message_id'> & InsertedFor>(
    `INSERT INTO waiting (session, command, topic, payload, bytes, qos, dup, broker, counter)
     SELECT id, 'publish', @topic, @payload, @bytes, @qos, 0, @broker, @counter FROM session WHERE id = @id`,
  );
  const size = writer.prepare<[string], { messages: number; bytes: number; is_cut: number }>(
    'SELECT messages, bytes, is_cut FROM session WHERE id = ?',
  );
  const dropOldest = writer.prepare<[string]>(
    'DELETE FROM waiting WHERE number = (SELECT min(number) FROM waiting WHERE session = ?)',
  );
  const cut = writer.prepare<[string]>('UPDATE session SET is_cut = 1 WHERE id = ?');
  const name = writer.prepare<[string | null, number | null, number]>(
    'UPDATE waiting SET broker = ?, counter = ? WHERE number = ?',
  );
  const sent = writer.prepare<[number | null, string, number | null, string | null]>(
    `UPDATE waiting SET message_id = ?
     WHERE number = (SELECT min(number) FROM waiting WHERE session = ? AND counter IS ? AND broker IS ?)`,
  );
  const release = writer.prepare<[string, number | null]>(
    `UPDATE waiting SET command = 'pubrel', topic = '', payload = x'' WHERE session = ? AND message_id = ?`,
  );
  const oldestSent = writer.prepare<[string, number], Row>(
    'SELECT * FROM waiting WHERE session = ? AND message_id = ? ORDER BY number LIMIT 1',
  );
  const oldestUnsent = writer.prepare<[string, number | null, string | null], Row>(
    `SELECT * FROM waiting WHERE session = ? AND counter IS ? AND broker IS ? AND message_id IS NULL
     ORDER BY number LIMIT 1`,
  );
  const remove = writer.prepare<[number]>('DELETE FROM waiting WHERE number = ?');
  const all = writer.prepare<[string], Row>('SELECT * FROM waiting WHERE session = ? ORDER BY number');
  const sendAgain = writer.prepare<[string]>(
    'UPDATE waiting SET dup = 1 WHERE session = ? AND message_id IS NOT NULL',
  );

  const makeRoom = (id: string): void => {
    for (let now = size.get(id); now !== undefined; now = size.get(id)) {
      if (now.messages <= limits.messages && now.bytes <= limits.bytes) return;
      dropOldest.run(id);
      if (now.is_cut === 1) continue;
      cut.run(id);
      const { messages, bytes } = limits;
      events.lost(id, problem('session-queue-full', { messages, kilobytes: bytes / 1024 }));
    }
  };
  return {
    /** Returns the number of each copy. */
    add: (receivers: readonly Receiver[], message: QueuedMessage): readonly number[] =>
      transaction(() =>
        receivers.flatMap(({ clientId: id, qos: most = message.qos }) => {
          const { topic, payload, brokerId: broker = null, brokerCounter: counter = null } = message;
          const bytes = Buffer.byteLength(payload) + Buffer.byteLength(topic);
          const qos = Math.min(message.qos, most);
          const { changes, lastInsertRowid } = insert.run({
            id,
            topic,
            payload,
            bytes,
            qos,
            broker,
            counter,
          });
          if (changes > 0) makeRoom(id);
          return changes > 0 ? [Number(lastInsertRowid)] : [];
        }),
      ),
    name: (
      numbers: readonly number[],
      { brokerId, brokerCounter }: Pick<WaitingMessage, 'brokerId' | 'brokerCounter'>,
    ): void => {
      for (const number of numbers) name.run(brokerId, brokerCounter, number);
    },
    /** It goes out under this number of the connection, or its release does. */
    sent: (id: string, message: WaitingMessage | Release): void => {
      if (message.cmd === 'pubrel') release.run(id, message.messageId ?? null);
      else sent.run(message.messageId ?? null, id, message.brokerCounter, message.brokerId);
    },
    /** Its client has it, or it was not sent; returns what it was, if it was kept. */
    settle: (id: string, message: WaitingMessage): WaitingMessage | Release | undefined => {
      const { messageId, brokerCounter = null, brokerId = null } = message;
      const row =
        messageId === undefined
          ? oldestUnsent.get(id, brokerCounter, brokerId)
          : oldestSent.get(id, messageId);
      if (row === undefined) return undefined;
      remove.run(row.number);
      return messageOf(row);
    },
    all: (id: string): readonly (WaitingMessage | Release)[] => all.all(id).map(messageOf),
    /** What was sent and not settled is marked as such when it is sent again (MQTT 3.1.1, 3.3.1-1). */
    sendAgain: (id: string): void => {
      sendAgain.run(id);
    },
  };
}
