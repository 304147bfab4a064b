// The broker's files as they are shipped, on a real Mosquitto: what they allow must be enough for heat to be seen as of
// now after every break, and gateways can do no more than deliver.

import { execFileSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { connectAsync, type MqttClient } from 'mqtt';
import { afterEach, describe, expect, it } from 'vitest';
import type { Intake } from '../../collector/intake/intake.ts';
import { startIntake } from './built-intake.ts';
import { entriesOf, readingsOf } from './journal-entries.ts';
import { type Mosquitto, startMosquitto } from './mosquitto.ts';
import { temporaryFolder } from './lab-process.ts';
import { until } from './until.ts';

const shipped = (name: string): string =>
  readFileSync(new URL(`../../deploy/mosquitto/${name}`, import.meta.url), 'utf8');
const COLLECTOR = { username: 'waxwarden', password: 'beeswax-and-carnauba' };
const GATEWAY = { username: 'gateway', password: 'seven-sticks' };

const cleanups: (() => unknown)[] = [];
afterEach(async () => {
  for (const cleanup of cleanups.splice(0).reverse()) await cleanup();
});

/** Every place of the container becomes one of the folder; nothing else of the shipped text is touched. */
const shippedConfiguration = (folder: string, port: number): string => {
  const passwords = join(folder, 'passwords');
  writeFileSync(passwords, '', { mode: 0o600 });
  for (const { username, password } of [COLLECTOR, GATEWAY])
    execFileSync('mosquitto_passwd', ['-b', passwords, username, password], { stdio: 'ignore' });
  writeFileSync(join(folder, 'acl'), shipped('acl'), { mode: 0o600 });
  const places = {
    'listener 1883': `listener ${port} 127.0.0.1`,
    '/mosquitto/users/passwords': passwords,
    '/mosquitto/config/acl': join(folder, 'acl'),
    '/mosquitto/data/': `${folder}/`,
  };
  return Object.entries(places).reduce(
    (text, [inContainer, here]) => {
      expect(text).toContain(inContainer);
      return text.replace(inContainer, here);
    },
    `${shipped('mosquitto.conf')}\nuser root\nlog_dest none\n`,
  );
};

const startShipped = async (): Promise<Mosquitto> => {
  const broker = await startMosquitto({ configuration: shippedConfiguration });
  cleanups.push(broker.dispose);
  return broker;
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
const gateway = async (broker: Mosquitto): Promise<MqttClient> => {
  const client = await connectAsync(broker.url, { ...GATEWAY, protocolVersion: 5 });
  cleanups.push(() => client.end(true));
  return client;
};
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
    await expect(client.publishAsync(topic, '{}', { qos: 1 })).rejects.toThrow(/not authorized/i);
  });
});
