// kill -9 in the middle of 20,000 messages, five times, at instants that a seed chooses: afterwards every reading
// that was acknowledged to its gateway is in the store, once and with its own value.

import { readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { connect, type MqttClient } from 'mqtt';
import { afterEach, describe, expect, it } from 'vitest';
import { openSqliteStore } from '../../collector/store/sqlite-store.ts';
import { openDatabase } from '../../lab/database.ts';
import { epochMillis } from '../../wax/units.ts';
import { freePort } from '../free-port.ts';
import { startLabProcess, temporaryFolder } from './lab-process.ts';
import { startMosquitto } from './mosquitto.ts';
import { until } from './until.ts';

const MESSAGES = 20_000;
const KILLS = 5;
const PROBES = 8;
const FIRST = Date.UTC(2026, 5, 1);
/** Shorter than any entry of this test in the journal. */
const LEAST_ENTRY_BYTES = 120;
/** Messages that a gateway has on the way; real ones have few, and many make the test harder. */
const WINDOW = 500;

const cleanups: (() => unknown)[] = [];
afterEach(async () => {
  for (const cleanup of cleanups.splice(0).reverse()) await cleanup();
});

/** Numbers from 0 to 1 that follow from the seed (mulberry32). */
const chances = (seed: number) => () => {
  seed = (seed + 0x6d2b79f5) | 0;
  let mixed = Math.imul(seed ^ (seed >>> 15), 1 | seed);
  mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
  return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
};

const reading = (index: number) => ({
  probe: `pot-${index % PROBES}`,
  at: epochMillis(FIRST + index * 1000),
  celsius: 50 + (index % 1000) / 100,
});

/** Publishes the messages that are released, with QoS 1, and sends again what was not acknowledged. */
const startGateway = (url: string) => {
  const client: MqttClient = connect(url, { clientId: 'gw', clean: false, reconnectPeriod: 50 });
  client.on('error', () => {});
  const acknowledged = new Set<number>();
  let next = 0;
  const sendUpTo = async (released: number): Promise<void> => {
    while (next < released) {
      const index = next++;
      const { probe, at, celsius } = reading(index);
      const pack = JSON.stringify([{ n: probe, u: 'Cel', v: celsius, t: at / 1000 }]);
      while (!acknowledged.has(index))
        await client.publishAsync('wax/my-lab/gw/senml', pack, { qos: 1 }).then(
          () => acknowledged.add(index),
          () => {},
        );
    }
  };
  cleanups.push(() => client.end(true));
  return {
    acknowledged,
    release: (upTo: number) => Promise.all(Array.from({ length: WINDOW }, () => sendUpTo(upTo))),
  };
};

/** Bytes that the journal has ever had. */
const journalLength = (data: string): number => {
  const folder = join(data, 'journal');
  const newest = readdirSync(folder)
    .filter((name) => name.startsWith('journal-'))
    .sort()
    .at(-1);
  return newest === undefined ? 0 : Number(newest.replace(/\D/g, '')) + statSync(join(folder, newest)).size;
};

const storedIn = (data: string) => {
  const database = openDatabase(join(data, 'waxwarden.db'));
  const store = openSqliteStore(database);
  const raw = (probe: string) =>
    store.raw({ probe, from: epochMillis(FIRST), to: epochMillis(FIRST + MESSAGES * 1000), limit: MESSAGES });
  const all = async () => {
    const rows = await Promise.all(Array.from({ length: PROBES }, (_, index) => raw(`pot-${index}`)));
    return rows.flat().sort((a, b) => a.at - b.at);
  };
  return { all, close: () => database.close() };
};

const killedFiveTimes = async (broker: string, gatewayUrl: string, seed: number) => {
  const { path: data, remove } = await temporaryFolder();
  cleanups.push(remove);
  const args = ['--port', '0', '--broker', broker, '--lab', 'lab/files/starter.yaml'];
  const start = async () => {
    const labProcess = await startLabProcess({ data, args });
    cleanups.push(() => labProcess.stop('SIGKILL'));
    return labProcess;
  };
  let labProcess = await start();
  const gateway = startGateway(gatewayUrl);
  const chance = chances(seed);
  const phase = Math.floor(MESSAGES / (KILLS + 1));
  const sent: Promise<unknown>[] = [];
  // Each kill falls somewhere into a share of the messages that is released only when the process stands, so that
  // every one of them hits a process at work.
  for (let kill = 0; kill < KILLS; kill += 1) {
    const target = journalLength(data) + chance() * phase * LEAST_ENTRY_BYTES;
    sent.push(gateway.release(phase * (kill + 1)));
    await until(() => journalLength(data) >= target);
    await labProcess.stop('SIGKILL');
    labProcess = await start();
  }
  sent.push(gateway.release(MESSAGES));
  await Promise.all(sent);
  expect(gateway.acknowledged.size).toBe(MESSAGES);
  const stored = storedIn(data);
  try {
    await until(async () => (await stored.all()).length >= MESSAGES);
    expect(await labProcess.stop()).toBe(0);
    const rows = await stored.all();
    expect(rows.length).toBe(MESSAGES);
    const wrong = rows.filter(({ probe, at, celsius }, index) => {
      const sent = reading(index);
      return probe !== sent.probe || at !== sent.at || Math.abs(celsius - sent.celsius) > 1e-9;
    });
    expect(wrong).toEqual([]);
  } finally {
    stored.close();
  }
};

describe('a process that is killed five times in the middle of 20,000 messages', () => {
  it('loses and doubles nothing that its own broker acknowledged', async () => {
    const port = await freePort();
    await killedFiveTimes(`embedded:${port}`, `mqtt://127.0.0.1:${port}`, 20_261);
  });

  it('loses and doubles nothing that Mosquitto acknowledged', async () => {
    const mosquitto = await startMosquitto();
    cleanups.push(mosquitto.dispose);
    await killedFiveTimes(mosquitto.url, mosquitto.url, 20_262);
  });
});
