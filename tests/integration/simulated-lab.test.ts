// The simulated lab on a real broker: what a subscriber sees is what a real lab's gateways would send.

import { connectAsync, type MqttClient } from 'mqtt';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { demoSite } from '../../simulators/demo-story.ts';
import { type SimulatedLabOptions, startSimulatedLab } from '../../simulators/simulated-lab.ts';

import { type Mosquitto, startMosquitto } from './mosquitto.ts';
import { until } from './until.ts';

const MINUTE = 60_000;
const NOW = Date.UTC(2026, 10, 25, 14, 43, 7);
const span = [['07:30', '17:30']] as const;
const SITE = demoSite(
  {
    id: 'test-lab',
    timeZone: 'UTC',
    workingHours: { mon: span, tue: span, wed: span, thu: span, fri: span, sat: [], sun: [] },
    holidays: [],
  },
  NOW,
);

interface SenmlRecord {
  readonly bt?: number;
  readonly n: string;
  readonly t: number;
}

describe('a simulated lab on a broker', () => {
  let broker: Mosquitto;
  let client: MqttClient;
  let received: { topic: string; payload: string }[] = [];

  const lab = (options: Partial<SimulatedLabOptions> = {}) =>
    startSimulatedLab({
      brokerUrl: broker.url,
      site: SITE,
      now: () => NOW,
      seed: 7,
      story: false,
      pastDays: 1 / 12,
      ...options,
    });
  const newest = (topic: string) => received.findLast((message) => message.topic === topic)?.payload;

  beforeAll(async () => {
    broker = await startMosquitto();
    client = await connectAsync(broker.url, { protocolVersion: 4 });
    client.on('message', (topic, payload) => received.push({ topic, payload: payload.toString() }));
    await client.subscribeAsync('wax/#', { qos: 1 });
  });
  beforeEach(() => {
    received = [];
  });
  afterAll(async () => {
    await client?.endAsync();
    await broker?.dispose();
  });

  it('its past arrives whole, in order, with instants of its own, and ends now', async () => {
    const simulated = lab();
    const { messages, readings, from, to } = await simulated.past();
    await until(() => received.filter(({ topic }) => topic.endsWith('/senml')).length === messages);
    await simulated.stop();
    const instants = new Map<string, number[]>();
    for (const { topic, payload } of received) {
      if (!topic.endsWith('/senml')) continue;
      const records = JSON.parse(payload) as SenmlRecord[];
      const base = records[0]?.bt ?? 0;
      for (const { n, t } of records) instants.set(n, [...(instants.get(n) ?? []), (base + t) * 1000]);
    }
    const all = [...instants.values()].flat();
    expect(all.length).toBe(readings);
    expect(instants.size).toBe(10);
    for (const series of instants.values())
      expect(series).toEqual([...new Set(series)].sort((a, b) => a - b));
    expect(Math.min(...all)).toBeGreaterThanOrEqual(from);
    expect(Math.max(...all)).toBeGreaterThan(NOW - MINUTE);
    expect(to).toBeLessThanOrEqual(NOW);
  });

  it('live, pots and bench send plain numbers, the storage gateway packs', async () => {
    const simulated = lab();
    await simulated.liveUntil(NOW);
    received = [];
    await simulated.liveUntil(NOW + 2000);
    await simulated.liveUntil(NOW + 12_000);
    await simulated.stop();
    await until(() => newest('wax/test-lab/gw-store/state') === 'offline');
    expect(Number(newest('wax/test-lab/gw-pots/dip-wax/celsius'))).toBeGreaterThan(15);
    expect(newest('wax/test-lab/gw-store/senml')).toContain('shelf-air');
    expect(received.some(({ topic }) => topic.startsWith('wax/test-lab/gw-store/shelf-air'))).toBe(false);
  });

  it('a gateway that dies is declared offline by its last will, and comes back online', async () => {
    const dead = {
      kind: 'gateway-dead',
      gateway: 'gw-bench',
      from: NOW + MINUTE,
      to: NOW + 3 * MINUTE,
    } as const;
    const state = 'wax/test-lab/gw-bench/state';
    const simulated = lab({ faults: [dead] });
    await simulated.liveUntil(NOW);
    await until(() => newest(state) === 'online');
    await simulated.liveUntil(NOW + 2 * MINUTE);
    await until(() => newest(state) === 'offline');
    received = [];
    await simulated.liveUntil(NOW + 2.5 * MINUTE);
    await simulated.liveUntil(NOW + 4 * MINUTE);
    await until(() => newest(state) === 'online');
    await simulated.stop();
    expect(received.some(({ topic }) => topic.includes('/gw-pots/'))).toBe(true);
  });

  it('a fleet publishes a thousand probes', async () => {
    const simulated = lab({ copies: 100, pastDays: 0 });
    expect(simulated.fleet.probes.length).toBe(1000);
    await simulated.liveUntil(NOW);
    await simulated.liveUntil(NOW + 10_000);
    const probes = () => {
      const seen = new Set<string>();
      for (const { topic, payload } of received) {
        const plain = /\/([^/]+)\/celsius$/.exec(topic)?.[1];
        if (plain !== undefined) seen.add(plain);
        else if (topic.endsWith('/senml'))
          for (const { n } of JSON.parse(payload) as SenmlRecord[]) seen.add(n);
      }
      return seen.size;
    };
    await until(() => probes() === 1000);
    await simulated.stop();
  });
});
