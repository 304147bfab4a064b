// Intake against a real Mosquitto and against the embedded broker, over a real journal.

import { once } from 'node:events';
import { mkdtempSync, rmSync } from 'node:fs';
import { type AddressInfo, createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Aedes } from 'aedes';
import { connectAsync, type MqttClient } from 'mqtt';
import { afterAll, afterEach, describe, expect, it } from 'vitest';
import { brokerLogin } from '../../collector/intake/broker-login.ts';
import type { EmbeddedBroker, ExternalBroker, Intake, IntakeOptions } from '../../collector/intake/intake.ts';
import { startIntake } from './built-intake.ts';
import { entriesOf, readingsOf } from './journal-entries.ts';
import { tailReader } from '../../collector/journal/tail-reader.ts';
import type { Entry } from '../../lab/entry.ts';
import { epochMillis } from '../../wax/units.ts';
import { startMosquitto } from './mosquitto.ts';
import { until } from './until.ts';

const root = mkdtempSync(join(tmpdir(), 'waxwarden-intake-'));
const cleanups: (() => unknown)[] = [];
afterEach(async () => {
  for (const cleanup of cleanups.splice(0).reverse()) await cleanup();
});
afterAll(() => rmSync(root, { recursive: true, force: true }));
let folders = 0;

const mosquitto = async (...options: Parameters<typeof startMosquitto>) => {
  const broker = await startMosquitto(...options);
  cleanups.push(broker.dispose);
  return broker;
};
const external = (url: string): ExternalBroker => ({ kind: 'external', url });
const embedded: EmbeddedBroker = { kind: 'embedded', host: '127.0.0.1', port: 0, login: null };
const start = async (broker: IntakeOptions['broker'], more: Partial<IntakeOptions> = {}) => {
  folders += 1;
  const options = { site: 'lab-1', journalFolder: join(root, String(folders)), broker, ...more };
  const intake = await startIntake(options);
  cleanups.push(intake.stop);
  return { intake, folder: options.journalFolder };
};
const gateway = async (url: string, more: Parameters<typeof connectAsync>[1] = {}): Promise<MqttClient> => {
  const client = await connectAsync(url, { reconnectPeriod: 50, ...more });
  cleanups.push(() => client.end(true));
  return client;
};
const connected = (intake: Intake) => until(() => intake.status().broker.state === 'connected');
const readingsIn = (folder: string, intake: Intake) => readingsOf(entriesOf(folder, intake));
const rejectionsOf = (folder: string, intake: Intake) =>
  entriesOf(folder, intake).filter((entry) => entry.kind === 'rejection');
const portOf = (intake: Intake): number => {
  const { broker } = intake.status();
  if (broker.state !== 'listening') throw new Error(`broker is ${broker.state}`);
  return broker.port;
};
const senml = (probe: string, seconds: number, celsius: number): string =>
  JSON.stringify([{ n: probe, u: 'Cel', v: celsius, t: 1.78e9 + seconds }]);

describe('intake from an external broker', () => {
  it('gets from the broker whether anybody subscribes to what it delivers', async () => {
    const broker = await mosquitto();
    const { intake } = await start(external(broker.url));
    await connected(intake);
    expect(await intake.deliver('bench/lamp', 'on')).toEqual({ kind: 'taken', receivers: 'none' });
    const lamp = await gateway(broker.url);
    await lamp.subscribeAsync('bench/lamp', { qos: 1 });
    expect(await intake.deliver('bench/lamp', 'on')).toEqual({ kind: 'taken', receivers: 'some' });
    await lamp.unsubscribeAsync('bench/lamp');
    expect(await intake.deliver('bench/lamp', 'off')).toEqual({ kind: 'taken', receivers: 'none' });
    expect(await intake.deliver('wax/lab-1/lamp', 'on')).toEqual({ kind: 'taken', receivers: 'unknown' });
  });

  it('journals readings, states and rejections of its own site', async () => {
    const broker = await mosquitto();
    const { intake, folder } = await start(external(broker.url));
    await connected(intake);
    const client = await gateway(broker.url);
    await client.publishAsync('wax/lab-1/gw/state', 'online', { qos: 1, retain: true });
    await client.publishAsync('wax/lab-1/gw/pot-1/celsius', '61.5', { qos: 1 });
    await client.publishAsync('wax/lab-1/gw/senml', senml('pot-2', 0, 62.5), { qos: 1 });
    await client.publishAsync('wax/lab-1/gw/pot-1/celcius', '61.5', { qos: 1 });
    await client.publishAsync('wax/lab-2/gw/pot-9/celsius', '99', { qos: 1 });
    await until(() => readingsIn(folder, intake).length === 2 && rejectionsOf(folder, intake).length === 1);
    expect(readingsIn(folder, intake)).toMatchObject([
      { probe: 'pot-1', celsius: 61.5, quality: 'good' },
      { probe: 'pot-2', at: 1.78e12, celsius: 62.5, quality: 'good' },
    ]);
    expect(entriesOf(folder, intake)[0]).toMatchObject({ kind: 'gateway', gateway: 'gw', online: true });
    expect(rejectionsOf(folder, intake)).toMatchObject([
      { code: 'unknown-topic', topic: 'wax/lab-1/gw/pot-1/celcius' },
    ]);
  });

  it('gets what was sent while it was away, with plain numbers marked uncertain in time', async () => {
    const broker = await mosquitto();
    const first = await start(external(broker.url));
    await connected(first.intake);
    await first.intake.stop();
    const client = await gateway(broker.url);
    await client.publishAsync('wax/lab-1/gw/pot-1/celsius', '50', { qos: 1 });
    await client.publishAsync('wax/lab-1/gw/senml', senml('pot-1', 0, 51), { qos: 1 });
    const { intake, folder } = await start(external(broker.url));
    await until(() => readingsIn(folder, intake).length === 2);
    await until(() => {
      const status = intake.status().broker;
      return status.state === 'connected' && !status.isCatchingUp;
    });
    await client.publishAsync('wax/lab-1/gw/pot-1/celsius', '52', { qos: 1 });
    await until(() => readingsIn(folder, intake).length === 3);
    expect(readingsIn(folder, intake).map(({ celsius, quality }) => [celsius, quality])).toEqual([
      [50, 'uncertain-time'],
      [51, 'good'],
      [52, 'good'],
    ]);
  });

  it('takes no retained value for a live one, but a retained state', async () => {
    const broker = await mosquitto();
    const client = await gateway(broker.url);
    await client.publishAsync('wax/lab-1/gw/pot-1/celsius', '50', { qos: 1, retain: true });
    await client.publishAsync('wax/lab-1/gw/state', 'offline', { qos: 1, retain: true });
    const { intake, folder } = await start(external(broker.url));
    await until(() => rejectionsOf(folder, intake).length === 1);
    expect(rejectionsOf(folder, intake)).toMatchObject([{ code: 'retained-without-time' }]);
    expect(entriesOf(folder, intake)).toSatisfy((entries: readonly Entry[]) =>
      entries.every((entry) => entry.kind === 'rejection' || (entry.kind === 'gateway' && !entry.online)),
    );
  });

  it('starts without its broker, reports it, and connects when it comes', async () => {
    const broker = await mosquitto();
    await broker.stop();
    const { intake } = await start(external(broker.url));
    await until(() => {
      const status = intake.status().broker;
      if (status.state !== 'unreachable') return false;
      const { code, values } = status.problem;
      return code === 'broker-connection-failed' && String(values?.reason).includes('ECONNREFUSED');
    });
    await broker.start();
    await connected(intake);
  });

  it('says so, also once it is back, when another program takes its session at every turn', async () => {
    const broker = await mosquitto();
    const { intake } = await start(external(broker.url));
    await connected(intake);
    const other = await gateway(broker.url, { clientId: 'waxwarden-lab-1', reconnectPeriod: 20 });
    await until(() => {
      const { broker: state } = intake.status();
      return state.state === 'unreachable' && state.problem.code === 'broker-connection-short-lived';
    });
    other.end(true);
    // Taken by the broker: the connection is there again, and not yet believed.
    await until(async () => (await intake.deliver('bench/lamp', 'on')).kind === 'taken');
    expect(intake.status().broker).toMatchObject({
      state: 'unreachable',
      problem: { code: 'broker-connection-short-lived', values: { client: 'waxwarden-lab-1' } },
    });
  });

  it('says so when the broker acknowledges nothing, and believes it again when it does', async () => {
    const silent = await Aedes.createBroker();
    let isSilent = true;
    silent.authorizePublish = (_client, _packet, done) => {
      if (!isSilent) done(null);
    };
    const server = createServer(silent.handle).listen(0, '127.0.0.1');
    cleanups.push(() => {
      silent.close();
      server.close();
    });
    await once(server, 'listening');
    const url = `mqtt://127.0.0.1:${(server.address() as AddressInfo).port}`;
    const { intake } = await start({ ...external(url), unansweredMillis: 600 });
    const isReported = () => {
      const { broker: state } = intake.status();
      return state.state === 'unreachable' && state.problem.code === 'broker-answers-nothing';
    };
    await until(isReported);
    isSilent = false;
    await connected(intake);
  });

  it('loses nothing when the broker restarts in the middle', async () => {
    const broker = await mosquitto({ persistence: true });
    const { intake, folder } = await start(external(broker.url));
    await connected(intake);
    const client = await gateway(broker.url, { clientId: 'gw', clean: false });
    const count = 3000;
    const sent = Array.from({ length: count }, (_, index) =>
      client.publishAsync('wax/lab-1/gw/senml', senml('pot-1', index, 60), { qos: 1 }),
    );
    await until(() => intake.counts().acknowledged > 200);
    await broker.stop();
    await broker.start();
    await Promise.all(sent);
    const instants = await until(() => {
      const seen = new Set(readingsIn(folder, intake).map(({ at }) => at));
      return seen.size === count && seen;
    });
    expect(instants.size).toBe(count);
  });

  it('leaves a last will of offline, and publishes online while it is there', async () => {
    const broker = await mosquitto();
    const client = await gateway(broker.url);
    const said: string[] = [];
    client.on('message', (_, payload) => said.push(payload.toString()));
    await client.subscribeAsync('wax/lab-1/collector/state', { qos: 1 });
    const { intake } = await start(external(broker.url));
    await until(() => said.at(-1) === 'online');
    await intake.stop();
    await until(() => said.at(-1) === 'offline');
    expect(said).toEqual(['online', 'offline']);
  });

  it('publishes to the broker, the newest of each topic after an absence', async () => {
    const broker = await mosquitto();
    await broker.stop();
    const { intake } = await start(external(broker.url));
    intake.publish('wax/lab-1/station/pot', 'old', { retain: true });
    intake.publish('wax/lab-1/station/pot', 'new', { retain: true });
    await broker.start();
    await connected(intake);
    const client = await gateway(broker.url);
    const said: string[] = [];
    client.on('message', (_, payload) => said.push(payload.toString()));
    await client.subscribeAsync('wax/lab-1/station/#', { qos: 1 });
    await until(() => said.length > 0);
    intake.publish('wax/lab-1/station/pot', 'newest', { retain: true });
    await until(() => said.at(-1) === 'newest');
    expect(said).toEqual(['new', 'newest']);
  });

  it('acknowledges a megabyte of nonsense into quarantine and goes on', async () => {
    const broker = await mosquitto();
    const { intake, folder } = await start(external(broker.url));
    await connected(intake);
    const client = await gateway(broker.url);
    await client.publishAsync('wax/lab-1/gw/pot-1/celsius', Buffer.alloc(1_000_000, 0xff), { qos: 1 });
    await client.publishAsync('wax/lab-1/gw/pot-1/celsius', '61.5', { qos: 1 });
    await until(() => readingsIn(folder, intake).length === 1 && rejectionsOf(folder, intake).length === 1);
    expect(rejectionsOf(folder, intake)[0]).toMatchObject({ code: 'too-large', bytes: 1_000_000 });
    expect(Buffer.from(rejectionsOf(folder, intake)[0]?.sample_base64 ?? '', 'base64')).toHaveLength(1024);
    expect(intake.counts().acknowledged).toBe(2);
  });
});

describe('intake with the embedded broker', () => {
  it('acknowledges a gateway only when its reading is on disk', async () => {
    const { intake, folder } = await start(embedded);
    const client = await gateway(`mqtt://127.0.0.1:${portOf(intake)}`);
    for (let index = 0; index < 20; index += 1) {
      await client.publishAsync('wax/lab-1/gw/senml', senml('pot-1', index, 60), { qos: 1 });
      // Read from the file itself, not from what the thread has reported so far.
      const reader = tailReader(folder);
      const { entries } = reader.read(0, 1_000_000);
      reader.close();
      expect(entries).toHaveLength(index + 1);
    }
  });

  it('takes a last will as the gateway going offline', async () => {
    const { intake, folder } = await start(embedded);
    const client = await gateway(`mqtt://127.0.0.1:${portOf(intake)}`, {
      reconnectPeriod: 0,
      will: { topic: 'wax/lab-1/gw/state', payload: Buffer.from('offline'), qos: 1, retain: true },
    });
    await client.publishAsync('wax/lab-1/gw/state', 'online', { qos: 1, retain: true });
    client.stream.destroy();
    await until(() => entriesOf(folder, intake).length === 2);
    expect(entriesOf(folder, intake)).toMatchObject([{ online: true }, { online: false }]);
  });

  it('passes messages on to subscribers, and what it publishes itself', async () => {
    const { intake } = await start(embedded);
    const url = `mqtt://127.0.0.1:${portOf(intake)}`;
    const lamp = await gateway(url);
    const said: string[] = [];
    lamp.on('message', (topic, payload) => said.push(`${topic} ${payload}`));
    await lamp.subscribeAsync('wax/lab-1/#', { qos: 1 });
    intake.publish('wax/lab-1/station/pot', '{}', { retain: true });
    await (await gateway(url)).publishAsync('wax/lab-1/gw/pot-1/celsius', '61.5', { qos: 1 });
    await until(() => said.length === 3);
    expect(said.sort()).toEqual([
      'wax/lab-1/collector/state online',
      'wax/lab-1/gw/pot-1/celsius 61.5',
      'wax/lab-1/station/pot {}',
    ]);
  });

  it('lets no gateway speak for the collector', async () => {
    const { intake, folder } = await start(embedded);
    const url = `mqtt://127.0.0.1:${portOf(intake)}`;
    const client = await gateway(url, { reconnectPeriod: 0 });
    const closed = until(() => !client.connected);
    client.publish('wax/lab-1/alarm/pot', 'none', { qos: 1 });
    await closed;
    await until(() => rejectionsOf(folder, intake).length === 1);
    expect(rejectionsOf(folder, intake)).toMatchObject([{ code: 'reserved-topic' }]);
  });

  it('refuses to listen on the network without a login', async () => {
    await expect(start({ ...embedded, host: '0.0.0.0' })).rejects.toMatchObject({
      code: 'broker-needs-login',
    });
  });

  it('demands the login when it has one', async () => {
    const login = brokerLogin(join(root, 'login.json'));
    const { intake } = await start({ ...embedded, login });
    const url = `mqtt://127.0.0.1:${portOf(intake)}`;
    await expect(gateway(url)).rejects.toThrow(/bad username or password/i);
    await expect(gateway(url, { username: login.user, password: 'guess' })).rejects.toThrow();
    const client = await gateway(url, { username: login.user, password: login.password });
    expect(client.connected).toBe(true);
    expect(brokerLogin(join(root, 'login.json'))).toEqual(login);
  });

  it('refuses a port that is taken, and leaves the journal free', async () => {
    const { intake } = await start(embedded);
    const port = portOf(intake);
    await expect(start({ ...embedded, port })).rejects.toMatchObject({ code: 'broker-port' });
    const again = await start(embedded, { journalFolder: join(root, String(folders)) });
    expect(again.intake.journalEnd()).toBe(0);
  });

  it('journals what people do in the one order, and answers the offset', async () => {
    const { intake, folder } = await start(embedded);
    const seen: number[] = [];
    intake.onJournal((end) => seen.push(end));
    const act: Entry = {
      kind: 'act',
      receivedAt: epochMillis(1),
      act: { type: 'acknowledge', alarm: 'a-1', by: 'ada' },
    };
    const offset = await intake.append([act]);
    expect(intake.journalEnd()).toBe(offset);
    expect(entriesOf(folder, intake)).toEqual([act]);
    await until(() => seen.includes(offset));
  });

  it('goes on where it stopped', async () => {
    const first = await start(embedded);
    const offset = await first.intake.append([{ kind: 'tick', receivedAt: epochMillis(1) }]);
    await first.intake.stop();
    const second = await start(embedded, { journalFolder: first.folder });
    expect(second.intake.journalEnd()).toBe(offset);
    expect(second.intake.tornTail).toBeNull();
  });
});
