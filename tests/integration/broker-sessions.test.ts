// Sessions at the embedded broker, over real connections: over its restart and its death, up to their limits, and with a
// login that is taken back.

import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { connect as connectTcp } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { connect, connectAsync, type IClientOptions, type IConnackPacket, type MqttClient } from 'mqtt';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { type GatewayAccount, passwordHashOf } from '../../collector/intake/broker-access.ts';
import type { Intake } from '../../collector/intake/intake.ts';
import { SESSION_LIMITS } from '../../collector/intake/session-tables.ts';
import { freePort } from '../free-port.ts';
import { startIntake } from './built-intake.ts';
import { entriesOf } from './journal-entries.ts';
import { startLabProcess } from './lab-process.ts';
import { until } from './until.ts';

const BENCH = 'bench/lamp';
let folder: string;
let port: number;
let intake: Intake;
const clients: MqttClient[] = [];

const start = async (accounts: readonly GatewayAccount[] = []): Promise<void> => {
  intake = await startIntake({
    site: 'lab-1',
    journalFolder: join(folder, 'journal'),
    broker: {
      kind: 'embedded',
      host: '127.0.0.1',
      port,
      login: null,
      accounts,
      sessionsFile: join(folder, 'sessions.db'),
    },
  });
};
beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'waxwarden-sessions-'));
  port = await freePort();
  await start();
});
afterEach(async () => {
  for (const client of clients.splice(0)) await client.endAsync(true);
  await intake.stop();
  rmSync(folder, { recursive: true, force: true });
});
const restart = async (accounts: readonly GatewayAccount[] = []): Promise<void> => {
  await intake.stop();
  await start(accounts);
};

const publisher = async (options: IClientOptions = {}): Promise<MqttClient> => {
  const client = await connectAsync(`mqtt://127.0.0.1:${port}`, { reconnectPeriod: 0, ...options });
  clients.push(client);
  return client;
};
interface Member {
  readonly client: MqttClient;
  readonly sessionPresent: boolean;
  /** As they came: topic, payload, QoS and whether it is marked as sent before. */
  readonly received: { topic: string; text: string; qos: number; dup: boolean; retain: boolean }[];
}
/** A client with a session. What waits for it may come with the answer to its CONNECT. */
const member = async (clientId: string, options: IClientOptions = {}): Promise<Member> => {
  const client = connect(`mqtt://127.0.0.1:${port}`, {
    clientId,
    clean: false,
    reconnectPeriod: 0,
    resubscribe: false,
    ...options,
  });
  clients.push(client);
  const received: Member['received'] = [];
  client.on('message', (topic, payload, { qos, dup, retain }) =>
    received.push({ topic, text: payload.toString(), qos, dup, retain }),
  );
  const { sessionPresent } = await new Promise<IConnackPacket>((resolve, reject) => {
    client.once('connect', resolve);
    client.once('error', reject);
  });
  return { client, sessionPresent, received };
};
const away = async (clientId: string, filters: string | string[], qos: 0 | 1 | 2 = 1): Promise<void> => {
  const { client } = await member(clientId);
  await client.subscribeAsync(filters, { qos });
  await client.endAsync();
};
const texts = ({ received }: Member): readonly string[] => received.map(({ text }) => text);
/** Waits for everything that was on the way to the client: what is published now comes behind it. */
const whenAllCame = async (lamp: Member, topic = BENCH): Promise<readonly string[]> => {
  const marker = `marker ${lamp.received.length} ${Math.random()}`;
  await (await publisher()).publishAsync(topic, marker, { qos: 1 });
  await until(() => texts(lamp).includes(marker));
  return texts(lamp).filter((text) => text !== marker);
};
const rejections = (): readonly { topic: string; code: string }[] =>
  entriesOf(join(folder, 'journal'), intake).flatMap((entry) =>
    entry.kind === 'rejection' ? [{ topic: entry.topic, code: entry.code }] : [],
  );
const codes = (): readonly string[] => rejections().map(({ code }) => code);

it('The broker keeps a client’s subscriptions and messages over a restart, each message once and in order', async () => {
  await away('lamp', BENCH, 2);
  const gateway = await publisher();
  await gateway.publishAsync(BENCH, 'first', { qos: 1, retain: true });
  await gateway.publishAsync(BENCH, 'second', { qos: 2 });
  await gateway.publishAsync(BENCH, 'not kept', { qos: 0 });
  await restart();
  const back = await member('lamp');
  expect(back.sessionPresent).toBe(true);
  await until(() => back.received.length === 2);
  expect(back.received).toEqual([
    { topic: BENCH, text: 'first', qos: 1, dup: false, retain: false },
    { topic: BENCH, text: 'second', qos: 2, dup: false, retain: false },
  ]);
  expect(await whenAllCame(back)).toEqual(['first', 'second']);
  await back.client.endAsync();
  await restart();
  const again = await member('lamp');
  expect([again.sessionPresent, await whenAllCame(again)]).toEqual([true, []]);
});

it('Every message that the broker acknowledged before it was killed reaches the client that was away', async () => {
  const [web, broker] = [await freePort(), await freePort()];
  const args = ['--port', String(web), '--broker', `embedded:${broker}`];
  const lab = await startLabProcess({ data: join(folder, 'lab'), args });
  const own = port;
  port = broker;
  try {
    await away('lamp', BENCH);
    const gateway = await publisher();
    const acknowledged: string[] = [];
    const sent = Array.from({ length: 3000 }, (_, index) => String(index));
    for (const text of sent)
      gateway.publish(BENCH, text, { qos: 1 }, (error) => {
        if (error === undefined || error === null) acknowledged.push(text);
      });
    await until(() => acknowledged.length > 300);
    await lab.stop('SIGKILL');
    const after = await startLabProcess({ data: lab.data, args });
    try {
      const back = await member('lamp');
      expect(back.sessionPresent).toBe(true);
      await until(() => texts(back).includes(acknowledged.at(-1) ?? ''));
      const came = texts(back);
      // Of many the newest wait; of those none is missing and none comes twice. The last were kept and not acknowledged.
      const oldest = Number(came[0]);
      expect(came).toEqual(sent.slice(oldest, oldest + came.length));
      expect(oldest).toBeLessThanOrEqual(Math.max(0, acknowledged.length - 300));
    } finally {
      await after.stop();
    }
  } finally {
    await lab.stop('SIGKILL');
    port = own;
  }
});

it('A message that the client did not acknowledge comes again, marked as a repeat', async () => {
  const lamp = await member('lamp');
  await lamp.client.subscribeAsync(BENCH, { qos: 1 });
  const came = new Promise<void>((resolve) => {
    // Without its callback the library acknowledges nothing.
    lamp.client.handleMessage = () => resolve();
  });
  await (await publisher()).publishAsync(BENCH, 'seen and not settled', { qos: 1 });
  await came;
  lamp.client.stream.destroy();
  const back = await member('lamp');
  await until(() => back.received.length === 1);
  expect(back.received[0]).toMatchObject({ text: 'seen and not settled', dup: true });
});

it('Of more messages than the broker keeps for a client the oldest are dropped, and quarantine shows it once', async () => {
  await away('lamp', BENCH);
  const gateway = await publisher();
  const sent = Array.from({ length: SESSION_LIMITS.messages + 100 }, (_, index) => String(index));
  await Promise.all(sent.map((text) => gateway.publishAsync(BENCH, text, { qos: 1 })));
  const back = await member('lamp');
  await until(() => texts(back).includes(sent.at(-1) ?? ''));
  expect(texts(back)).toEqual(sent.slice(100));
  await until(() => codes().includes('session-queue-full'));
  expect(rejections().filter(({ code }) => code === 'session-queue-full')).toEqual([
    { topic: 'wax/lab-1/lamp', code: 'session-queue-full' },
  ]);
});

it('Of more bytes than the broker keeps for a client the oldest messages are dropped', async () => {
  await away('lamp', BENCH);
  const gateway = await publisher();
  const bytes = 100_000;
  for (let index = 0; index < 15; index += 1)
    await gateway.publishAsync(BENCH, String(index).padEnd(bytes), { qos: 1 });
  const back = await member('lamp');
  const fitting = Math.floor(SESSION_LIMITS.bytes / (bytes + BENCH.length));
  await until(() => texts(back).some((text) => Number(text) === 14));
  expect(texts(back).map((text) => Number(text))).toEqual(
    Array.from({ length: fitting }, (_, index) => 15 - fitting + index),
  );
});

it('A login that has all the sessions it may have gets another one for the client that was away longest', async () => {
  for (let index = 0; index <= SESSION_LIMITS.ofOneLogin; index += 1) await away(`lamp-${index}`, BENCH);
  await restart();
  expect((await member('lamp-0')).sessionPresent).toBe(false);
  expect((await member('lamp-1')).sessionPresent).toBe(true);
  expect((await member(`lamp-${SESSION_LIMITS.ofOneLogin}`)).sessionPresent).toBe(true);
  await until(() => codes().includes('too-many-sessions'));
  expect(rejections().find(({ code }) => code === 'too-many-sessions')?.topic).toBe('wax/lab-1/lamp-0');
});

it('A gateway whose login was taken back, or replaced, finds no session', async () => {
  const account = (password: string) => [{ gateway: 'bench-1', passwordHash: passwordHashOf(password) }];
  const own = { username: 'bench-1', password: 'own secret' };
  await restart(account('own secret'));
  const paired = await member('display', own);
  await paired.client.subscribeAsync('wax/lab-1/alarm/#', { qos: 1 });
  await paired.client.endAsync();
  expect((await member('display', own)).sessionPresent).toBe(true);
  intake.setGatewayAccounts([]);
  intake.setGatewayAccounts(account('own secret'));
  const anew = await until(() => member('display', own).catch(() => null));
  expect(anew.sessionPresent).toBe(false);
  await anew.client.subscribeAsync('wax/lab-1/alarm/#', { qos: 1 });
  await anew.client.endAsync();
  await restart(account('another secret'));
  expect((await member('display', { ...own, password: 'another secret' })).sessionPresent).toBe(false);
});

it('A filter that a gateway may not have is not kept beside one that it may', async () => {
  const accounts = [{ gateway: 'bench-1', passwordHash: passwordHashOf('own secret') }];
  await restart(accounts);
  const own = { username: 'bench-1', password: 'own secret' };
  const paired = await member('display', own);
  await paired.client.subscribeAsync(['wax/lab-1/bench-1/note', BENCH], { qos: 1 }).catch(() => {});
  await paired.client.endAsync();
  const gateway = await publisher();
  await gateway.publishAsync(BENCH, 'not for it', { qos: 1 });
  const writer = await publisher({ ...own, clientId: 'writer' });
  await writer.publishAsync('wax/lab-1/bench-1/note', 'for it', { qos: 1 });
  await restart(accounts);
  const back = await member('display', own);
  await until(() => texts(back).includes('for it'));
  expect(texts(back)).toEqual(['for it']);
});

it('A last will waits for a client that is away, and that of a client with a session is published too', async () => {
  await away('lamp', 'wax/lab-1/+/state');
  const will = {
    topic: 'wax/lab-1/gw/state',
    payload: Buffer.from('offline'),
    qos: 1,
    retain: true,
  } as const;
  const dying = await member('gw', { will });
  dying.client.stream.destroy();
  await until(() => entriesOf(join(folder, 'journal'), intake).some(({ kind }) => kind === 'gateway'));
  await restart();
  const back = await member('lamp');
  await until(() => texts(back).includes('offline'));
});

it('A client that connects with a clean session ends the one that it had', async () => {
  await away('lamp', BENCH);
  await (await publisher()).publishAsync(BENCH, 'on', { qos: 1 });
  const clean = await member('lamp', { clean: true });
  expect([clean.sessionPresent, clean.received]).toEqual([false, []]);
  await clean.client.endAsync();
  const back = await member('lamp');
  expect([back.sessionPresent, back.received]).toEqual([false, []]);
});

it('The broker refuses a client that requests a session and gives no name', async () => {
  const socket = connectTcp(port, '127.0.0.1');
  // CONNECT of MQTT 3.1.1 without the flag of a clean session and with an empty id.
  socket.write(Buffer.from('100c00044d5154540400003c0000', 'hex'));
  const answer = await new Promise<Buffer>((resolve) => socket.once('data', resolve));
  socket.destroy();
  expect([...answer]).toEqual([0x20, 2, 0, 2]);
});

it('An answer on the bench is delivered only to clients that are there, also to one that found its session again', async () => {
  await away('lamp', BENCH);
  expect(await intake.deliver(BENCH, 'on')).toMatchObject({ receivers: 'none' });
  await restart();
  await member('lamp');
  expect(await intake.deliver(BENCH, 'on')).toMatchObject({ receivers: 'some' });
});

it('A file of sessions that is damaged leaves the broker without sessions, taking readings, and is named in quarantine', async () => {
  await intake.stop();
  writeFileSync(join(folder, 'sessions.db'), 'no database '.repeat(1000));
  await start();
  await away('lamp', BENCH);
  expect((await member('lamp')).sessionPresent).toBe(false);
  await (await publisher()).publishAsync('wax/lab-1/gw/pot-1/celsius', '61', { qos: 1 });
  await until(() => codes().includes('sessions-not-kept'));
  expect(entriesOf(join(folder, 'journal'), intake).some(({ kind }) => kind === 'readings')).toBe(true);
});
