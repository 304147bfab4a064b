// An independent Sparkplug client on a real Mosquitto against the host application of intake.

import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { connectAsync } from 'mqtt';
import { newClient, type UPayload } from 'sparkplug-client';
import { afterAll, afterEach, expect, it } from 'vitest';
import { startIntake } from './built-intake.ts';
import { entriesOf, readingsOf } from './journal-entries.ts';
import type { Entry } from '../../lab/entry.ts';
import { startMosquitto } from './mosquitto.ts';
import { until } from './until.ts';

const root = mkdtempSync(join(tmpdir(), 'waxwarden-sparkplug-'));
const cleanups: (() => unknown)[] = [];
afterEach(async () => {
  for (const cleanup of cleanups.splice(0).reverse()) await cleanup();
});
afterAll(() => rmSync(root, { recursive: true, force: true }));

const HOST = 'spBv1.0/STATE/waxwarden-lab-1';
let folders = 0;

const startHost = async (url: string) => {
  folders += 1;
  const journalFolder = join(root, String(folders));
  const intake = await startIntake({ site: 'lab-1', journalFolder, broker: { kind: 'external', url } });
  cleanups.push(intake.stop);
  return { intake, entries: () => entriesOf(journalFolder, intake) };
};

const onlineOf = (entries: readonly Entry[]) =>
  entries.flatMap((entry) => (entry.kind === 'gateway' ? [entry.online] : []));
const codesOf = (entries: readonly Entry[]) =>
  entries.flatMap((entry) => (entry.kind === 'rejection' ? [entry.code] : []));

const metric = (value: number, more: object = {}): NonNullable<UPayload['metrics']>[number] => ({
  name: 'Temperature',
  type: 'Double',
  value,
  timestamp: Date.now(),
  properties: { engUnit: { type: 'String', value: 'degC' } },
  ...more,
});

/** A node with one device, which gives its births whenever they are requested. */
const startNode = (url: string) => {
  const node = newClient({
    serverUrl: url,
    username: '',
    password: '',
    groupId: 'bench',
    edgeNode: 'edge-1',
    clientId: `edge-1-${Math.random()}`,
    publishDeath: true,
    version: 'spBv1.0',
  });
  const births = { count: 0 };
  const giveBirth = () => {
    births.count += 1;
    node.publishNodeBirth({
      timestamp: Date.now(),
      metrics: [{ name: 'Node Control/Rebirth', type: 'Boolean', value: false }],
    });
    node.publishDeviceBirth('pot-1', { timestamp: Date.now(), metrics: [metric(60)] });
  };
  node.on('birth', giveBirth);
  node.on('ncmd', ({ metrics }) => {
    if (metrics?.some(({ name, value }) => name === 'Node Control/Rebirth' && value === true)) giveBirth();
  });
  cleanups.push(() => node.stop());
  return { node, births };
};

const observed = async (url: string, topic: string): Promise<string[]> => {
  const client = await connectAsync(url);
  cleanups.push(() => client.end(true));
  const payloads: string[] = [];
  client.on('message', (_, payload) => payloads.push(payload.toString()));
  await client.subscribeAsync(topic, { qos: 1 });
  return payloads;
};

it('an independent node is taken with its birth, its data and its death', async () => {
  const broker = await startMosquitto();
  cleanups.push(broker.dispose);
  const { entries } = await startHost(broker.url);
  const states = await observed(broker.url, HOST);
  await until(() => states.some((state) => state.includes('"online":true')));
  const { node, births } = startNode(broker.url);
  await until(() => readingsOf(entries()).length > 0);
  node.publishDeviceData('pot-1', { timestamp: Date.now(), metrics: [metric(61.25)] });
  node.publishDeviceData('pot-1', {
    timestamp: Date.now(),
    metrics: [metric(95, { timestamp: Date.now() - 3_600_000, isHistorical: true })],
  });
  await until(() => readingsOf(entries()).length === 3);
  node.stop();
  await until(() => onlineOf(entries()).includes(false));
  const all = entries();
  expect(readingsOf(all).map(({ probe, celsius }) => [probe, celsius])).toEqual([
    ['pot-1', 60],
    ['pot-1', 61.25],
    ['pot-1', 95],
  ]);
  expect(all.filter((entry) => entry.kind === 'readings' && entry.isHistorical === true)).toHaveLength(1);
  expect(onlineOf(all)).toEqual([true, false]);
  expect(births.count).toBe(1);
});

it('a node that was there before its host gets a request for its births, and is understood from then on', async () => {
  const broker = await startMosquitto();
  cleanups.push(broker.dispose);
  const { node, births } = startNode(broker.url);
  await until(() => births.count === 1);
  const { entries } = await startHost(broker.url);
  const states = await observed(broker.url, HOST);
  await until(() => states.some((state) => state.includes('"online":true')));
  node.publishDeviceData('pot-1', { timestamp: Date.now(), metrics: [metric(61.25)] });
  await until(() => births.count === 2 && readingsOf(entries()).length > 0);
  node.publishDeviceData('pot-1', { timestamp: Date.now(), metrics: [metric(62.5)] });
  await until(() => readingsOf(entries()).some(({ celsius }) => celsius === 62.5));
  expect(codesOf(entries())).toEqual(['sparkplug-no-birth']);
});

/** Hands on what the node sends, in the order and with the gaps that `pass` gives, and the host's commands to the node. */
const relay = async (wireUrl: string, url: string, pass: (send: () => void, topic: string) => void) => {
  const [wire, far] = [await connectAsync(wireUrl), await connectAsync(url)];
  cleanups.push(() => Promise.all([wire.endAsync(true), far.endAsync(true)]));
  wire.on('message', (topic, payload) => {
    if (!topic.includes('/NCMD/')) pass(() => void far.publish(topic, payload, { qos: 1 }), topic);
  });
  far.on('message', (topic, payload) => void wire.publish(topic, payload));
  await wire.subscribeAsync('spBv1.0/#', { qos: 1 });
  await far.subscribeAsync('spBv1.0/+/NCMD/#', { qos: 1 });
};

it('what an independent node sends is read in its order when it is overtaken, and born again when one is lost', async () => {
  const [wire, broker] = [await startMosquitto(), await startMosquitto()];
  cleanups.push(wire.dispose, broker.dispose);
  let held: (() => void) | null = null;
  let fate: 'pass' | 'hold' | 'lose' = 'pass';
  await relay(wire.url, broker.url, (send, topic) => {
    const isData = topic.includes('/DDATA/');
    if (isData && fate === 'lose') {
      fate = 'pass';
    } else if (isData && fate === 'hold') {
      fate = 'pass';
      held = send;
    } else {
      send();
      held?.();
      held = null;
    }
  });
  const states = await observed(broker.url, HOST);
  const { entries } = await startHost(broker.url);
  await until(() => states.some((state) => state.includes('"online":true')));
  const { node, births } = startNode(wire.url);
  const say = (value: number) =>
    node.publishDeviceData('pot-1', { timestamp: Date.now(), metrics: [metric(value)] });
  const valuesRead = (): readonly number[] => readingsOf(entries()).map(({ celsius }) => celsius);
  await until(() => valuesRead().length > 0);
  fate = 'hold';
  say(61);
  say(62);
  await until(() => valuesRead().length === 3);
  expect(valuesRead()).toEqual([60, 61, 62]);
  expect(births.count).toBe(1);
  fate = 'lose';
  say(63);
  say(64);
  await until(() => births.count === 2 && valuesRead().includes(64));
  say(65);
  await until(() => valuesRead().includes(65));
  expect(valuesRead()).not.toContain(63);
});

it('the host publishes by its retained state that it is there, and by its last will or goodbye that it is not', async () => {
  const broker = await startMosquitto();
  cleanups.push(broker.dispose);
  const states = await observed(broker.url, HOST);
  const { intake } = await startHost(broker.url);
  await until(() => states.length >= 1);
  await intake.stop();
  await until(() => states.some((state) => state.includes('"online":false')));
  const [birth, death] = states.map((state) => JSON.parse(state) as { online: boolean; timestamp: number });
  expect(birth?.online).toBe(true);
  expect(death).toEqual({ online: false, timestamp: birth?.timestamp });
});

it('a birth of thousands of metrics is taken whole by the built-in broker', async () => {
  folders += 1;
  const journalFolder = join(root, String(folders));
  const broker = { kind: 'embedded', host: '127.0.0.1', port: 0, login: null } as const;
  const intake = await startIntake({ site: 'lab-1', journalFolder, broker });
  cleanups.push(intake.stop);
  const status = intake.status().broker;
  if (status.state !== 'listening') throw new Error(`the broker is ${status.state}`);
  const { node } = startNode(`mqtt://127.0.0.1:${status.port}`);
  await until(() => readingsOf(entriesOf(journalFolder, intake)).length > 0);
  const metrics = Array.from({ length: 6000 }, (_, index) =>
    metric(20, { name: `Inputs/Place number ${index}/Temperature` }),
  );
  node.publishDeviceBirth('rack', { timestamp: Date.now(), metrics });
  await until(() => readingsOf(entriesOf(journalFolder, intake)).length > metrics.length);
  expect(codesOf(entriesOf(journalFolder, intake))).toEqual([]);
});
