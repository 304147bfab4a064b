// The broker's files as they are shipped, on a real Mosquitto: what they allow must be enough for heat to be seen as of
// now after every break, and gateways can do no more than deliver.

import { execFileSync, spawnSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { connectAsync, type MqttClient } from 'mqtt';
import { afterEach, describe, expect, it } from 'vitest';
import type { Intake } from '../../collector/intake/intake.ts';
import { openAuthority } from '../../dashboard/server/https/authority.ts';
import { epochMillis } from '../../wax/units.ts';
import { freePort } from '../free-port.ts';
import { startIntake } from './built-intake.ts';
import { entriesOf, readingsOf } from './journal-entries.ts';
import { type Mosquitto, startMosquitto } from './mosquitto.ts';
import { temporaryFolder } from './lab-process.ts';
import { until } from './until.ts';

const shipped = (name: string): string =>
  readFileSync(new URL(`../../deploy/mosquitto/${name}`, import.meta.url), 'utf8');
const ADD_GATEWAY = fileURLToPath(new URL('../../deploy/mosquitto/add-gateway', import.meta.url));
const COLLECTOR = { username: 'waxwarden', password: 'beeswax-and-carnauba' };
const LAMP = { username: 'lamp', password: 'seven-sticks' };

const cleanups: (() => unknown)[] = [];
afterEach(async () => {
  for (const cleanup of cleanups.splice(0).reverse()) await cleanup();
});

/** Makes the account of a gateway as a person does, and returns its password. */
const addGateway = (passwords: string, name: string): string => {
  const { stdout, stderr, status } = spawnSync('sh', [ADD_GATEWAY, passwords, name], { encoding: 'utf8' });
  if (status !== 0) throw new Error(stderr);
  return /password, .*: (\S+)/.exec(stdout)?.[1] ?? '';
};

interface ShippedBroker extends Mosquitto {
  readonly tlsUrl: string;
  /** Of the authority that signed the broker's certificate. */
  readonly authority: string;
  readonly passwords: Readonly<Record<string, string>>;
}

const startShipped = async (): Promise<ShippedBroker> => {
  const { path: folder, remove } = await temporaryFolder();
  cleanups.push(remove);
  const now = epochMillis(Date.now());
  const names = { dns: ['localhost'], addresses: ['127.0.0.1'] };
  const authority = await openAuthority(folder, 'Quay Laboratory', names, now);
  const { cert, key } = await authority.issue(names, now);
  const file = (name: string, text: string): string => {
    writeFileSync(join(folder, name), text, { mode: 0o600 });
    return join(folder, name);
  };
  const passwords = file('passwords', '');
  for (const { username, password } of [COLLECTOR, LAMP])
    execFileSync('mosquitto_passwd', ['-b', passwords, username, password], { stdio: 'ignore' });
  const accounts = Object.fromEntries(['gw', 'gw-2'].map((name) => [name, addGateway(passwords, name)]));
  const tlsPort = await freePort();
  // Every place of the container becomes one of the folder; nothing else of the shipped texts is touched.
  const places = (port: number) => ({
    'listener 1883': `listener ${port} 127.0.0.1`,
    'listener 8883': `listener ${tlsPort} 127.0.0.1`,
    '/mosquitto/users/passwords': passwords,
    '/mosquitto/config/acl': file('acl', shipped('acl')),
    '/mosquitto/data/': `${folder}/`,
    '/mosquitto/tls/certificate.pem': file('certificate.pem', cert),
    '/mosquitto/tls/key.pem': file('key.pem', key),
  });
  const broker = await startMosquitto({
    configuration: (_, port) =>
      Object.entries(places(port)).reduce(
        (text, [inContainer, here]) => {
          expect(text).toContain(inContainer);
          return text.replace(inContainer, here);
        },
        `${shipped('mosquitto.conf')}\n${shipped('tls.conf')}\nuser root\nlog_dest none\n`,
      ),
  });
  cleanups.push(broker.dispose);
  return { ...broker, tlsUrl: `mqtts://localhost:${tlsPort}`, authority: authority.pem, passwords: accounts };
};
const collect = async (broker: Mosquitto, journalFolder: string): Promise<Intake> => {
  const { username, password } = COLLECTOR;
  const intake = await startIntake({
    site: 'lab-1',
    journalFolder,
    broker: { kind: 'external', url: broker.url.replace('//', `//${username}:${password}@`) },
  });
  await until(() => intake.status().broker.state === 'connected');
  return intake;
};
const gateway = async (broker: ShippedBroker, username = 'gw'): Promise<MqttClient> => {
  const password = broker.passwords[username] ?? '';
  const { tlsUrl, authority: ca } = broker;
  const client = await connectAsync(tlsUrl, { username, password, ca, protocolVersion: 5 });
  cleanups.push(() => client.end(true));
  return client;
};
const REFUSED = /not authorized/i;
const readingsIn = (folder: string, intake: Intake) => readingsOf(entriesOf(folder, intake));

describe('a lab with the shipped files of the broker', () => {
  it('sees plain numbers as of now after a break, while heat streams in without a pause', async () => {
    const broker = await startShipped();
    const { path, remove } = await temporaryFolder();
    cleanups.push(remove);
    const first = await collect(broker, path);
    await first.stop();
    const client = await gateway(broker);
    const publish = (celsius: number) =>
      client.publishAsync('wax/lab-1/gw/pot-1/celsius', String(celsius), { qos: 1 });
    await publish(60);
    let sent = 150;
    const timer = setInterval(() => {
      sent += 0.1;
      void publish(sent);
    }, 20);
    cleanups.push(() => clearInterval(timer));
    const intake = await collect(broker, path);
    cleanups.push(intake.stop);
    // Until heat is there that is not uncertain in time, while it never stops coming.
    const hot = await until(() => {
      const good = readingsIn(path, intake).filter(
        ({ celsius, quality }) => celsius >= 150 && quality === 'good',
      );
      return good.length >= 3 ? good : null;
    });
    expect(hot.length).toBeGreaterThanOrEqual(3);
    expect(readingsIn(path, intake)[0]).toMatchObject({ celsius: 60, quality: 'uncertain-time' });
  });

  it('keeps every plain number that was acknowledged, however fast they came', async () => {
    const broker = await startShipped();
    const { path, remove } = await temporaryFolder();
    cleanups.push(remove);
    const intake = await collect(broker, path);
    cleanups.push(intake.stop);
    const client = await gateway(broker);
    const values = Array.from({ length: 600 }, (_, index) => (index === 300 ? 171 : 60 + index / 1000));
    await Promise.all(
      values.map((celsius) => client.publishAsync('wax/lab-1/gw/pot-1/celsius', String(celsius), { qos: 1 })),
    );
    await until(() => readingsIn(path, intake).length === 600);
    const readings = readingsIn(path, intake);
    expect(new Set(readings.map(({ at }) => at)).size).toBe(600);
    expect(readings.map(({ celsius }) => celsius)).toEqual(values);
  });

  it.each([
    'wax/lab-1/station/pot',
    'wax/lab-1/alarm/pot',
    'wax/lab-1/change/pot',
    'wax/lab-1/collector/marker',
    'wax/lab-1/collector/state',
  ])('lets the collector write %s, and no gateway', async (topic) => {
    const broker = await startShipped();
    const collector = await connectAsync(broker.url, { ...COLLECTOR, protocolVersion: 5 });
    cleanups.push(() => collector.end(true));
    const client = await gateway(broker);
    await expect(collector.publishAsync(topic, '{}', { qos: 1 })).resolves.toBeDefined();
    await expect(client.publishAsync(topic, '{}', { qos: 1 })).rejects.toThrow(REFUSED);
  });

  it('lets a gateway write under its own name, and under no other', async () => {
    const broker = await startShipped();
    const client = await gateway(broker);
    for (const topic of [
      'wax/lab-1/gw/pot-1/celsius',
      'wax/lab-1/gw/senml',
      'wax/lab-1/gw/senml-cbor',
      'wax/lab-1/gw/senml-past',
      'wax/lab-1/gw/state',
      'spBv1.0/lab/NBIRTH/gw',
      'spBv1.0/lab/DDATA/gw/pot-1',
    ]) {
      await expect(client.publishAsync(topic, '1', { qos: 1 }), topic).resolves.toBeDefined();
      const foreign = topic.replace('gw', 'gw-2');
      await expect(client.publishAsync(foreign, '1', { qos: 1 }), foreign).rejects.toThrow(REFUSED);
    }
  });

  it('takes from the collector alone what a lamp acts on, and hands it to the lamp', async () => {
    const broker = await startShipped();
    const { path, remove } = await temporaryFolder();
    cleanups.push(remove);
    const intake = await collect(broker, path);
    const lamp = await connectAsync(broker.url, { ...LAMP, protocolVersion: 5 });
    cleanups.push(
      () => intake.stop(),
      () => lamp.end(true),
    );
    const seen: string[] = [];
    lamp.on('message', (_, payload) => seen.push(payload.toString()));
    expect(await intake.deliver('lamps/bench', 'on')).toEqual({ kind: 'taken', receivers: 'none' });
    await lamp.subscribeAsync('lamps/bench', { qos: 1 });
    const liar = await gateway(broker);
    await expect(liar.publishAsync('lamps/bench', 'off', { qos: 1 })).rejects.toThrow(REFUSED);
    expect(await intake.deliver('lamps/bench', 'on')).toEqual({ kind: 'taken', receivers: 'some' });
    await until(() => seen.length > 0);
    expect(seen).toEqual(['on']);
  });

  it('shows a gateway nothing of what others send, and a lamp what concerns it', async () => {
    const broker = await startShipped();
    const client = await gateway(broker);
    const lamp = await connectAsync(broker.url, { ...LAMP, protocolVersion: 5 });
    const collector = await connectAsync(broker.url, { ...COLLECTOR, protocolVersion: 5 });
    cleanups.push(
      () => lamp.end(true),
      () => collector.end(true),
    );
    const seen: Record<'gateway' | 'lamp', string[]> = { gateway: [], lamp: [] };
    client.on('message', (topic) => seen.gateway.push(topic));
    lamp.on('message', (topic) => seen.lamp.push(topic));
    // A broker may take a subscription of which it then hands on what is allowed.
    await Promise.allSettled([
      client.subscribeAsync(['wax/#', 'spBv1.0/#'], { qos: 1 }),
      lamp.subscribeAsync('wax/+/alarm/+', { qos: 1 }),
    ]);
    const stranger = await gateway(broker, 'gw-2');
    await stranger.publishAsync('wax/lab-1/gw-2/pot-1/celsius', '61', { qos: 1 });
    await collector.publishAsync('wax/lab-1/alarm/pot', '{}', { qos: 1 });
    await collector.publishAsync('spBv1.0/STATE/waxwarden-lab-1', '{}', { qos: 1 });
    await until(() => seen.lamp.length > 0 && seen.gateway.length > 0);
    expect(seen).toEqual({ gateway: ['spBv1.0/STATE/waxwarden-lab-1'], lamp: ['wax/lab-1/alarm/pot'] });
  });

  it.each(['station', 'alarm', 'change', 'collector', 'waxwarden', 'lamp', 'a b', '../x', ''])(
    'gives no account to a gateway called %j',
    (name) => {
      const { status } = spawnSync('sh', [ADD_GATEWAY, '/nowhere/passwords', name]);
      expect(status).toBe(2);
    },
  );
});
