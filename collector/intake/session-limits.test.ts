// The limits of sessions, by a clock that the test moves.

import { mkdtempSync, rmSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openSessions, type Persistence, type BrokerSessions } from './session-persistence.ts';

const memoryStore = createRequire(createRequire(import.meta.url).resolve('aedes'))(
  'aedes-persistence',
) as () => Persistence & { incomingGetPacket: (client: object, message: object) => Promise<unknown> };
const LIMITS = { inAll: 3, ofOneLogin: 2, messages: 3, bytes: 100, halfOpen: 2, awayMillis: 1000 };

let folder: string;
let memory: ReturnType<typeof memoryStore>;
let sessions: BrokerSessions;
let at: number;
let lost: string[];
const open = (logins: Readonly<Record<string, string>> = {}): void => {
  memory = memoryStore();
  sessions = openSessions(memory, {
    file: join(folder, 'sessions.db'),
    loginOf: ({ id }) => logins[id] ?? 'shared',
    hasGranted: () => true,
    lost: (id, { code }) => lost.push(`${id} ${code}`),
    now: () => at,
    limits: LIMITS,
  });
};
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'waxwarden-sessions-'));
  [at, lost] = [0, []];
});
afterEach(() => {
  sessions.close();
  rmSync(folder, { recursive: true, force: true });
});

const subscribe = (id: string): Promise<void> =>
  sessions.persistence.addSubscriptions({ id }, [{ topic: 'bench/lamp', qos: 1 }]);
const has = async (id: string): Promise<boolean> => (await memory.subscriptionsByClient({ id })).length > 0;
const publish = async (payload: string): Promise<void> => {
  await sessions.keep({ topic: 'bench/lamp', payload: Buffer.from(payload), qos: 1 });
};
const waiting = async (id: string): Promise<readonly string[]> => {
  const texts: string[] = [];
  for await (const { payload } of sessions.persistence.outgoingStream({ id })) texts.push(String(payload));
  return texts;
};
const message = (messageId: number) => ({ messageId, topic: '', payload: '' });

describe('Sessions at the embedded broker', () => {
  it('make room among those of the same login, the one whose client was away longest first', async () => {
    open();
    for (const id of ['a', 'b']) await subscribe(id);
    at = 1;
    await sessions.left({ id: 'b' });
    at = 2;
    await sessions.left({ id: 'a' });
    await subscribe('c');
    expect([await has('a'), await has('b'), await has('c')]).toEqual([true, false, true]);
    expect(lost).toEqual(['b too-many-sessions']);
  });

  it('are refused to another client while all of that login are in use', async () => {
    open();
    for (const id of ['a', 'b', 'c']) await subscribe(id);
    expect([await has('a'), await has('b'), await has('c')]).toEqual([true, true, false]);
    expect(lost).toEqual(['c too-many-sessions']);
  });

  it('of one login leave those of others alone until there are too many in all', async () => {
    open({ x: 'gateway', y: 'another' });
    await subscribe('x');
    await sessions.left({ id: 'x' });
    for (const id of ['a', 'b']) await subscribe(id);
    at = 1;
    await sessions.left({ id: 'a' });
    await subscribe('c');
    expect([await has('x'), await has('a'), await has('c')]).toEqual([true, false, true]);
    await subscribe('y');
    expect([await has('x'), await has('y')]).toEqual([false, true]);
  });

  it('end when their client was away for longer than they are kept, and not a moment before', async () => {
    open();
    await subscribe('a');
    await sessions.left({ id: 'a' });
    at = 1000;
    sessions.expire();
    expect(await has('a')).toBe(true);
    at = 1001;
    sessions.expire();
    expect([await has('a'), lost]).toEqual([false, ['a session-expired']]);
  });

  it('never end while their client is there, however long that is', async () => {
    open();
    await subscribe('a');
    at = 1e9;
    sessions.expire();
    expect(await has('a')).toBe(true);
  });

  it('count the absence of a client that was there when the process ended from the next start', async () => {
    open();
    await subscribe('a');
    sessions.close();
    at = 5000;
    open();
    await sessions.load();
    at = 6000;
    sessions.expire();
    expect(await has('a')).toBe(true);
    at = 6001;
    sessions.expire();
    expect(await has('a')).toBe(false);
  });

  it('keep the newest messages and report it once for each absence', async () => {
    open();
    await subscribe('a');
    for (const text of ['1', '2', '3', '4', '5']) await publish(text);
    expect([await waiting('a'), lost]).toEqual([['3', '4', '5'], ['a session-queue-full']]);
    sessions.arrived({ id: 'a' });
    await publish('6');
    expect(lost).toHaveLength(2);
  });

  it('keep no more bytes than their limit, of topics and of payloads', async () => {
    open();
    await subscribe('a');
    await publish('x'.repeat(40));
    await publish('y'.repeat(40));
    expect(await waiting('a')).toEqual(['x'.repeat(40), 'y'.repeat(40)]);
    await publish('z');
    expect(await waiting('a')).toEqual(['y'.repeat(40), 'z']);
  });

  it('take no more messages of QoS 2 than may be half done, also over a restart', async () => {
    open();
    await subscribe('a');
    const store = (id: number) => sessions.persistence.incomingStorePacket({ id: 'a' }, message(id));
    await store(1);
    await store(2);
    await expect(store(3)).rejects.toThrow('too many');
    await sessions.persistence.incomingDelPacket({ id: 'a' }, message(1));
    sessions.close();
    open();
    await sessions.load();
    await expect(memory.incomingGetPacket({ id: 'a' }, message(1))).rejects.toThrow();
    expect(await memory.incomingGetPacket({ id: 'a' }, message(2))).toBeDefined();
  });

  it('leave nothing of a client that subscribed to nothing', async () => {
    open();
    await sessions.persistence.incomingStorePacket({ id: 'a' }, message(1));
    await sessions.left({ id: 'a' });
    await expect(memory.incomingGetPacket({ id: 'a' }, message(1))).rejects.toThrow();
  });
});
