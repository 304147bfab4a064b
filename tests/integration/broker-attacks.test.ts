// Attacks on the embedded broker, over real connections, before and after the sign-in.

import { once } from 'node:events';
import { mkdtempSync, readdirSync, rmSync, statSync } from 'node:fs';
import { connect as connectTcp, type Socket } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { connectAsync, type IClientOptions, type MqttClient } from 'mqtt';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { passwordHashOf } from '../../collector/intake/broker-access.ts';
import type { Intake } from '../../collector/intake/intake.ts';
import { PACKET_LIMIT_BYTES } from '../../collector/intake/packet-guard.ts';
import { SESSION_LIMITS } from '../../collector/intake/session-tables.ts';
import { startIntake } from './built-intake.ts';
import { tailReader } from '../../collector/journal/tail-reader.ts';
import { until } from './until.ts';

const LOGIN = { user: 'gateway', password: 'made once' };
let folder: string;
let intake: Intake;
let port: number;
const cleanups: (() => unknown)[] = [];
beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'waxwarden-broker-'));
  intake = await startIntake({
    site: 'lab-1',
    journalFolder: folder,
    broker: {
      kind: 'embedded',
      host: '127.0.0.1',
      port: 0,
      login: LOGIN,
      sessionsFile: join(folder, 'sessions', 'sessions.db'),
    },
  });
  const { broker } = intake.status();
  if (broker.state !== 'listening') throw new Error(`the broker is ${broker.state}`);
  port = broker.port;
});
afterEach(async () => {
  for (const cleanup of cleanups.splice(0).reverse()) await cleanup();
  await intake.stop();
  rmSync(folder, { recursive: true, force: true });
});

const client = async (options: IClientOptions = {}): Promise<MqttClient> => {
  const signedIn = await connectAsync(`mqtt://127.0.0.1:${port}`, {
    username: LOGIN.user,
    password: LOGIN.password,
    reconnectPeriod: 0,
    ...options,
  });
  cleanups.push(() => signedIn.endAsync(true));
  return signedIn;
};
const raw = (bytes: Buffer): Socket => {
  const socket = connectTcp(port, '127.0.0.1').resume();
  socket.on('error', () => {});
  socket.write(bytes);
  cleanups.push(() => socket.destroy());
  return socket;
};
/** A text with its length ahead (MQTT 3.1.1, 1.5.3). */
const field = (text: string): Buffer =>
  Buffer.concat([Buffer.of(text.length >> 8, text.length & 255), Buffer.from(text)]);
/** CONNECT of MQTT 3.1.1 with the shared login (3.1). */
const connectPacket = (id: string): Buffer => {
  const rest = [
    field('MQTT'),
    Buffer.of(4, 0xc2, 0, 60),
    field(id),
    field(LOGIN.user),
    field(LOGIN.password),
  ];
  const body = Buffer.concat(rest);
  return Buffer.concat([Buffer.of(0x10, body.length), body]);
};
/** PUBLISH of QoS 2 (3.3); its length takes three bytes. */
const exactlyOnce = (topic: string, number: number, bytes: number): Buffer => {
  const body = Buffer.concat([field(topic), Buffer.of(number >> 8, number & 255), Buffer.alloc(bytes, 0x31)]);
  const { length } = body;
  const head = Buffer.of(0x34, (length & 127) | 128, ((length >> 7) & 127) | 128, length >> 14);
  return Buffer.concat([head, body]);
};
const closed = (socket: Socket): Promise<void> =>
  new Promise((resolve) => {
    if (socket.destroyed) resolve();
    else socket.once('close', () => resolve());
  });
const bytesIn = (of: string): number =>
  readdirSync(of).reduce((sum, name) => sum + statSync(join(of, name)).size, 0);
const rejections = (): readonly string[] => {
  const reader = tailReader(folder);
  const { entries } = reader.read(0, intake.journalEnd(), 1_000_000);
  reader.close();
  return entries.flatMap((entry) => (entry.kind === 'rejection' ? [entry.code] : []));
};

describe('the embedded broker', () => {
  it('takes nothing of a CONNECT of 90 MB, whoever sends it and however often', async () => {
    const before = process.memoryUsage().rss;
    const header = Buffer.of(0x10, 0x80, 0x95, 0xf5, 0x2a);
    const sockets = Array.from({ length: 40 }, () => {
      const socket = raw(header);
      socket.write(Buffer.alloc(1_000_000));
      return socket;
    });
    await Promise.all(sockets.map(closed));
    expect(process.memoryUsage().rss - before).toBeLessThan(300e6);
    expect((await client()).connected).toBe(true);
  });

  it('ends connections that never send a CONNECT, and keeps room for those that do', async () => {
    const idle = Array.from({ length: 200 }, () => raw(Buffer.of(0x10)));
    // What is above the limit is ended at once, the rest when its time for a CONNECT is over.
    await Promise.all(idle.map(closed));
    expect((await client()).connected).toBe(true);
  });

  it('ends a packet above the limit by its header and records it in quarantine under the client', async () => {
    const gateway = await client({ clientId: 'gw' });
    const ended = new Promise<void>((resolve) => gateway.once('close', () => resolve()));
    gateway.publish('wax/lab-1/gw/senml', Buffer.alloc(PACKET_LIMIT_BYTES + 1, 0x20), { qos: 1 });
    await ended;
    await until(() => rejections().includes('packet-too-large'));
  });

  it('keeps nothing that is refused, and of what is taken only the states of gateways', async () => {
    const gateway = await client();
    await gateway.publishAsync('home/kitchen', 'on', { qos: 1, retain: true });
    await gateway.publishAsync('wax/lab-1/gw/pot-1/celsius', '61', { qos: 1, retain: true });
    await gateway.publishAsync('wax/lab-1/gw/state', 'online', { qos: 1, retain: true });
    await gateway.publishAsync('wax/lab-1/long/state', 'online'.padEnd(65), { qos: 1, retain: true });
    const reader = await client();
    const retained: string[] = [];
    reader.on('message', (topic, _payload, { retain }) => {
      if (retain) retained.push(topic);
    });
    await reader.subscribeAsync('#', { qos: 1 });
    await until(() => retained.includes('wax/lab-1/gw/state'));
    expect(retained.filter((topic) => /kitchen|celsius|long/.test(topic))).toEqual([]);
  });

  it('lets no client publish that the host of the Sparkplug nodes is away', async () => {
    const node = await client();
    const received: string[] = [];
    node.on('message', (topic, payload) =>
      received.push(`${topic} ${JSON.parse(payload.toString()).online}`),
    );
    await node.subscribeAsync('spBv1.0/STATE/#', { qos: 1 });
    const offline = JSON.stringify({ online: false, timestamp: Date.now() + 60_000 });
    const liar = await client({ clientId: 'liar' });
    const isOver = new Promise<void>((resolve) => liar.once('close', () => resolve()));
    liar.publish('spBv1.0/STATE/waxwarden-lab-1', offline, { qos: 1, retain: true });
    await isOver;
    // What another host reports of itself comes behind it.
    const host = await client({ clientId: 'host' });
    await host.publishAsync('spBv1.0/STATE/elsewhere', offline, { qos: 1 });
    await until(() => received.includes('spBv1.0/STATE/elsewhere false'));
    expect(received).toEqual(['spBv1.0/STATE/waxwarden-lab-1 true', 'spBv1.0/STATE/elsewhere false']);
  });

  it.each(['spBv1.0/g/NCMD/edge', 'spBv1.0/g/DCMD/edge/pot-1', 'wax/lab-1/alarm/pot', 'lamps/bench'])(
    'passes on nothing that a client writes on %s, which is the collector’s, and says so in quarantine',
    async (topic) => {
      const node = await client();
      const received: string[] = [];
      node.on('message', (arrived) => received.push(arrived));
      await node.subscribeAsync([topic, 'home/kitchen'], { qos: 1 });
      const liar = await client({ clientId: 'liar' });
      const isOver = new Promise<void>((resolve) => liar.once('close', () => resolve()));
      liar.publish(topic, 'x', { qos: 1 });
      await isOver;
      const neighbour = await client({ clientId: 'neighbour' });
      await neighbour.publishAsync('home/kitchen', 'on', { qos: 1 });
      await until(() => received.includes('home/kitchen'));
      expect(received).toEqual(['home/kitchen']);
      await until(() => rejections().includes('reserved-topic'));
    },
  );

  it('passes on and keeps no will whose topic no message may bear', async () => {
    const screen = await client();
    const received: string[] = [];
    screen.on('message', (topic) => received.push(topic));
    await screen.subscribeAsync('wax/#', { qos: 1 });
    for (const gateway of ['+', '#', 'a\u0000b', 'gw']) {
      const will = {
        topic: `wax/lab-1/${gateway}/state`,
        payload: Buffer.from('offline'),
        qos: 1,
        retain: true,
      } as const;
      const dying = await client({ clientId: `dying-${encodeURIComponent(gateway)}`, will });
      dying.stream.destroy();
    }
    await until(() => received.includes('wax/lab-1/gw/state'));
    await until(() => rejections().length === 3);
    const retained: string[] = [];
    const late = await client();
    late.on('message', (topic) => retained.push(topic));
    await late.subscribeAsync('wax/#', { qos: 1 });
    await until(() => retained.includes('wax/lab-1/gw/state'));
    expect(
      [...received, ...retained].filter((topic) => ['+', '#', '\u0000'].some((sign) => topic.includes(sign))),
    ).toEqual([]);
  });

  it('keeps no more than its limits for clients that come under ever new names and stay away', async () => {
    const gateway = await client();
    for (let index = 0; index < SESSION_LIMITS.ofOneLogin + 20; index += 1) {
      const lamp = await client({ clientId: `lamp-${index}`, clean: false });
      await lamp.subscribeAsync('bench/#', { qos: 1 });
      await lamp.endAsync(true);
    }
    const [messages, bytes] = [5, 500_000];
    for (let index = 0; index < messages; index += 1)
      await gateway.publishAsync('bench/lamp', Buffer.alloc(bytes, 0x31), { qos: 1 });
    // SQLite's own pages and its log are beside it.
    expect(bytesIn(join(folder, 'sessions'))).toBeLessThan(
      1.5 * SESSION_LIMITS.ofOneLogin * SESSION_LIMITS.bytes,
    );
    expect(rejections().filter((code) => code === 'too-many-sessions')).toHaveLength(20);
  });

  it('keeps of messages that are never released their numbers alone', async () => {
    const [messages, bytes] = [200, 500_000];
    const leaveHalfOpen = async (id: string): Promise<void> => {
      const socket = raw(connectPacket(id));
      let received = 0;
      socket.on('data', (chunk) => (received += chunk.length));
      for (let number = 1; number <= messages; number += 1)
        if (!socket.write(exactlyOnce('wax/lab-1/gw/senml', number, bytes))) await once(socket, 'drain');
      // A CONNACK and all PUBRECs, of four bytes each.
      await until(() => received === 4 * (1 + messages));
    };
    // Buffers on their way take memory too, and the process keeps it: the first two connections pay for that.
    for (const id of ['warm-1', 'warm-2']) await leaveHalfOpen(id);
    const before = process.memoryUsage().rss;
    const later = ['half-open-1', 'half-open-2', 'half-open-3', 'half-open-4'];
    for (const id of later) await leaveHalfOpen(id);
    expect(process.memoryUsage().rss - before).toBeLessThan((later.length * messages * bytes) / 2);
  });

  it('lets nobody end the connection of a paired gateway by taking its client id', async () => {
    intake.setGatewayAccounts([{ gateway: 'bench-1', passwordHash: passwordHashOf('own secret') }]);
    const own = { username: 'bench-1', password: 'own secret', clientId: 'bench-1' };
    const paired = await until(() => client(own).catch(() => null));
    for (const clientId of ['bench-1', 'bench-1/bench-1', '/bench-1']) await client({ clientId });
    await paired.publishAsync('wax/lab-1/bench-1/pot-1/celsius', '61', { qos: 1 });
    expect(paired.connected).toBe(true);
    // Its own second connection still takes the place of the first (MQTT 3.1.1, 3.1.4-2).
    const ended = new Promise<void>((resolve) => paired.once('close', () => resolve()));
    await client(own);
    await ended;
  });

  it('lets a paired gateway write under its own name alone, and nobody else under it', async () => {
    intake.setGatewayAccounts([{ gateway: 'bench-1', passwordHash: passwordHashOf('own secret') }]);
    const own = { username: 'bench-1', password: 'own secret' };
    await until(async () =>
      client(own).then(
        () => true,
        () => false,
      ),
    );
    const paired = await client(own);
    await paired.publishAsync('wax/lab-1/bench-1/pot-1/celsius', '61', { qos: 1 });
    const isEnded = (gateway: MqttClient): Promise<void> =>
      new Promise((resolve) => gateway.once('close', () => resolve()));
    const shared = await client();
    const ended = [isEnded(paired), isEnded(shared)];
    paired.publish('wax/lab-1/bench-2/pot-2/celsius', '150', { qos: 1 });
    shared.publish('wax/lab-1/bench-1/pot-1/celsius', '150', { qos: 1 });
    await Promise.all(ended);
    await until(() => rejections().filter((code) => code === 'not-its-own-topic').length === 2);
    const reader = tailReader(folder);
    const { entries } = reader.read(0, intake.journalEnd(), 1_000_000);
    reader.close();
    const values = entries.flatMap((entry) => (entry.kind === 'readings' ? entry.readings : []));
    expect(values.map(({ celsius }) => celsius)).toEqual([61]);
  });

  it('ends the connection of a gateway whose account is taken back', async () => {
    intake.setGatewayAccounts([{ gateway: 'bench-1', passwordHash: passwordHashOf('own secret') }]);
    const own = { username: 'bench-1', password: 'own secret' };
    let paired: MqttClient | null = null;
    await until(async () => {
      paired = await client(own).catch(() => null);
      return paired !== null;
    });
    const ended = new Promise<void>((resolve) =>
      (paired as MqttClient | null)?.once('close', () => resolve()),
    );
    intake.setGatewayAccounts([]);
    await ended;
    await expect(client(own)).rejects.toThrow(/bad username or password/i);
  });
});
