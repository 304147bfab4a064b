// Puts the sessions of clients behind the library's own store in memory, which goes on matching topics: what a session must
// find again is written as well. What the disk refuses is not kept for sessions, and never holds up a reading.

import { Readable } from 'node:stream';
import type { Client } from 'aedes';
import { databaseRefusal } from '../../lab/database/database.ts';
import { type Problem, problem } from '../../wax/result.ts';
import { type SessionList, sessionList } from './session-list.ts';
import {
  type QueuedMessage,
  type Receiver,
  type Release,
  type SessionQueue,
  sessionQueue,
  type WaitingMessage,
} from './session-queue.ts';
import { openSessionTables, SESSION_LIMITS, type SessionLimits } from './session-tables.ts';

type Id = Pick<Client, 'id'>;
interface Filter {
  readonly topic: string;
  readonly qos: number;
}
type HalfOpen = Pick<WaitingMessage, 'messageId' | 'topic' | 'payload'>;

/** Of the library's store what sessions use and change. */
export interface Persistence {
  addSubscriptions(client: Id, filters: readonly Filter[]): Promise<void>;
  removeSubscriptions(client: Id, topics: readonly string[]): Promise<void>;
  subscriptionsByClient(client: Id): Promise<readonly Filter[]>;
  subscriptionsByTopic(topic: string): Promise<readonly Receiver[]>;
  cleanSubscriptions(client: Id): Promise<void>;
  incomingStorePacket(client: Id, message: HalfOpen): Promise<void>;
  incomingDelPacket(client: Id, message: HalfOpen): Promise<void>;
  cleanIncoming(client: Id): Promise<void>;
}

export interface SessionParts {
  readonly file: string;
  /** Of the client's login; undefined where it holds no more. */
  readonly loginOf: (client: Id) => string | undefined;
  /** The library hands on filters that were refused beside one that was granted. */
  readonly hasGranted: (client: Id, filter: string) => boolean;
  /** What a session lost; null where it is about all of them. */
  readonly lost: (id: string | null, problem: Problem) => void;
  readonly now: () => number;
  readonly limits?: SessionLimits;
}

export type BrokerSessions = ReturnType<typeof openSessions>;

/** @throws DatabaseRefusal */
export function openSessions(memory: Persistence, parts: SessionParts) {
  const { file, lost, now, limits = SESSION_LIMITS } = parts;
  const database = openSessionTables(file);
  const forget = (id: string): void => {
    void memory.cleanSubscriptions({ id });
    void memory.cleanIncoming({ id });
  };
  const list = sessionList(database, { lost, displaced: forget }, limits);
  const queue = sessionQueue(database, { lost }, limits);
  let hasFailed = false;
  const attempt: Attempt = (otherwise, work) => {
    // A connection may end after the broker.
    if (!database.writer.open) return otherwise;
    try {
      return work();
    } catch (error) {
      const refusal = databaseRefusal(error, file);
      if (refusal === null) throw error;
      if (!hasFailed) lost(null, problem('sessions-not-kept', { reason: refusal.message }));
      hasFailed = true;
      return otherwise;
    }
  };
  const end = (id: string): void => {
    attempt(undefined, () => list.end(id));
    forget(id);
  };
  const endAll = (ids: readonly string[]): void => {
    for (const id of ids) forget(id);
  };
  /** Copies that were written before the acknowledgement, by the payload that the library hands on as it is. */
  const copies = new WeakMap<object, readonly number[]>();
  return {
    persistence: Object.assign(Object.create(memory) as Persistence, {
      ...subscriptionMethods(memory, list, attempt, end, parts),
      ...queueMethods(queue, attempt, copies),
      ...halfOpenMethods(memory, list, attempt),
    }),
    /** What was found in the file, into the store in memory. */
    load: async (): Promise<void> => {
      list.markAll(now());
      for (const { session: id, topic, qos } of list.subscriptions())
        await memory.addSubscriptions({ id }, [{ topic, qos }]);
      for (const { session: id, message_id: messageId } of list.halfOpen())
        await memory.incomingStorePacket({ id }, { messageId, topic: '', payload: '' });
    },
    /**
     * Before a message is acknowledged: the library itself keeps it for sessions only afterwards. Null when there is
     * nothing to wait for.
     */
    keep: ({ topic, payload, qos }: QueuedMessage): Promise<void> | null => {
      if (qos !== 1 || typeof payload === 'string' || attempt(true, list.isEmpty)) return null;
      return memory.subscriptionsByTopic(topic).then((receivers) => {
        if (receivers.length > 0)
          copies.set(
            payload,
            attempt([], () => queue.add(receivers, { topic, payload, qos })),
          );
      });
    },
    arrived: ({ id }: Id): void =>
      attempt(undefined, () => {
        list.mark(id, null);
        queue.sendAgain(id);
      }),
    left: async (client: Id): Promise<void> => {
      // Without a subscription there is nothing to be away from.
      if ((await memory.subscriptionsByClient(client)).length === 0) end(client.id);
      else attempt(undefined, () => list.mark(client.id, now()));
    },
    /** Ends the sessions of all other logins. */
    revokeOthers: (logins: ReadonlySet<string>): void => endAll(attempt([], () => list.revokeOthers(logins))),
    expire: (): void => endAll(attempt([], () => list.expire(now()))),
    close: database.close,
  };
}

/** What the disk refuses is not kept, and the broker goes on. */
type Attempt = <T>(otherwise: T, work: () => T) => T;

function subscriptionMethods(
  memory: Persistence,
  list: SessionList,
  attempt: Attempt,
  end: (id: string) => void,
  { loginOf, hasGranted }: SessionParts,
) {
  return {
    addSubscriptions: async (client: Id, filters: readonly Filter[]): Promise<void> => {
      const login = loginOf(client);
      const granted = filters.filter(({ topic }) => hasGranted(client, topic));
      const keep = (): boolean => {
        if (login === undefined || !list.open(client.id, login)) return false;
        for (const { topic, qos } of granted) list.subscribe(client.id, topic, qos);
        return true;
      };
      if (attempt(false, keep)) await memory.addSubscriptions(client, granted);
    },
    removeSubscriptions: async (client: Id, topics: readonly string[]): Promise<void> => {
      attempt(undefined, () => {
        for (const topic of topics) list.unsubscribe(client.id, topic);
      });
      await memory.removeSubscriptions(client, topics);
    },
    /** Called when a client connects that requests its session. */
    subscriptionsByClient: async (client: Id): Promise<readonly Filter[]> => {
      const filters = await memory.subscriptionsByClient(client);
      // The answer is that it has none, and so it must not find half of one.
      if (filters.length === 0) end(client.id);
      return filters;
    },
    cleanSubscriptions: async ({ id }: Id): Promise<void> => end(id),
  };
}

function queueMethods(queue: SessionQueue, attempt: Attempt, copies: WeakMap<object, readonly number[]>) {
  const enqueue = async (receivers: readonly Receiver[], message: WaitingMessage): Promise<void> => {
    // As nearly always; it would be a transaction of its own for each reading.
    if (receivers.length === 0) return;
    attempt(undefined, () => {
      const written = typeof message.payload === 'string' ? undefined : copies.get(message.payload);
      if (written === undefined) queue.add(receivers, message);
      else queue.name(written, message);
    });
  };
  return {
    outgoingEnqueue: (receiver: Receiver, message: WaitingMessage) => enqueue([receiver], message),
    outgoingEnqueueCombi: enqueue,
    outgoingUpdate: async ({ id }: Id, message: WaitingMessage | Release) =>
      attempt(undefined, () => queue.sent(id, message)),
    outgoingClearMessageId: async ({ id }: Id, message: WaitingMessage) =>
      attempt(undefined, () => queue.settle(id, message)),
    outgoingStream: ({ id }: Id) => Readable.from(attempt([], () => queue.all(id))),
  };
}

function halfOpenMethods(memory: Persistence, list: SessionList, attempt: Attempt) {
  return {
    incomingStorePacket: async (client: Id, message: HalfOpen): Promise<void> => {
      const number = message.messageId ?? 0;
      if (!attempt(true, () => !list.has(client.id) || list.beginHalfOpen(client.id, number)))
        throw new Error('too many messages wait for their release');
      await memory.incomingStorePacket(client, message);
    },
    incomingDelPacket: async (client: Id, message: HalfOpen): Promise<void> => {
      attempt(undefined, () => list.endHalfOpen(client.id, message.messageId ?? 0));
      await memory.incomingDelPacket(client, message);
    },
  };
}
