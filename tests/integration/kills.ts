// kill -9 in the middle of messages under load, at instants that a seed chooses, and what is stored afterwards. For the
// test and, with many more of them, for the bench.

import { join } from 'node:path';
import { connect, type MqttClient } from 'mqtt';
import { openSqliteStore } from '../../collector/store/sqlite-store.ts';
import { openDatabase } from '../../lab/database/database.ts';
import { epochMillis } from '../../wax/units.ts';
import { type AlarmsAfterKills, HEAT_TOPIC, heatPack, hotPot, watchPots } from './kill-alarms.ts';
import { journalLength } from './journal-entries.ts';
import { startLabProcess, temporaryFolder } from './lab-process.ts';
import { until } from './until.ts';

const TOPIC = 'wax/my-lab/gw/senml';
const PROBES = 8;
const FIRST = Date.UTC(2026, 5, 1);
/** Shorter than any entry of this test in the journal. */
const LEAST_ENTRY_BYTES = 120;
/** Messages that a gateway has on the way; real ones have few, and many make the test harder. */
const WINDOW = 500;

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
const startGateway = (url: string, clientId: string) => {
  const client: MqttClient = connect(url, { clientId, clean: false, reconnectPeriod: 50 });
  client.on('error', () => {});
  const acknowledged = new Set<number>();
  let next = 0;
  /** Until it is acknowledged. */
  const publish = async (topic: string, pack: string): Promise<void> => {
    for (;;) {
      const isTaken = await client.publishAsync(topic, pack, { qos: 1 }).then(
        () => true,
        () => false,
      );
      if (isTaken) return;
    }
  };
  const sendUpTo = async (released: number): Promise<void> => {
    while (next < released) {
      const index = next++;
      const { probe, at, celsius } = reading(index);
      await publish(TOPIC, JSON.stringify([{ n: probe, u: 'Cel', v: celsius, t: at / 1000 }]));
      acknowledged.add(index);
    }
  };
  return {
    acknowledged,
    publish,
    end: () => client.end(true),
    release: (upTo: number) => Promise.all(Array.from({ length: WINDOW }, () => sendUpTo(upTo))),
  };
};

const storedIn = (data: string, messages: number) => {
  const database = openDatabase(join(data, 'waxwarden.db'));
  const store = openSqliteStore(database);
  const raw = (probe: string) =>
    store.raw({ probe, from: epochMillis(FIRST), to: epochMillis(FIRST + messages * 1000), limit: messages });
  const all = async () => {
    const rows = await Promise.all(Array.from({ length: PROBES }, (_, index) => raw(`pot-${index}`)));
    return rows.flat().sort((a, b) => a.at - b.at);
  };
  return { all, close: () => database.close() };
};

export interface Kills {
  readonly broker: string;
  readonly gatewayUrl: string;
  readonly seed: number;
  readonly kills: number;
  readonly messages: number;
}

export interface AfterKills {
  readonly acknowledged: number;
  readonly stored: number;
  /** Rows that differ from what was sent at their place. */
  readonly wrong: number;
  /** Of the process at the end, by SIGTERM. */
  readonly status: number | null;
  readonly alarms: AlarmsAfterKills;
  /** How many messages came once more. */
  readonly repeats: { readonly webhook: number; readonly mail: number };
}

/** Waits for ever when what was acknowledged does not come to be stored. */
export const killAtWork = async ({
  broker,
  gatewayUrl,
  seed,
  kills,
  messages,
}: Kills): Promise<AfterKills> => {
  const { path: folder, remove } = await temporaryFolder();
  const data = join(folder, 'data');
  const pots = await watchPots(folder, kills);
  const args = ['--port', '0', '--broker', broker, ...pots.args];
  const start = () => startLabProcess({ data, args, env: pots.env });
  let labProcess = await start();
  await pots.joinWithPhone(labProcess);
  const gateway = startGateway(gatewayUrl, 'gw');
  try {
    const chance = chances(seed);
    const phase = Math.floor(messages / (kills + 1));
    const sent: Promise<unknown>[] = [];
    // Each kill falls somewhere into a share of the messages that is released only when the process is up, so that
    // every one of them hits a process at work.
    for (let kill = 0; kill < kills; kill += 1) {
      const target = journalLength(data) + chance() * phase * LEAST_ENTRY_BYTES;
      sent.push(gateway.release(phase * (kill + 1)), gateway.publish(HEAT_TOPIC, heatPack(hotPot(kill))));
      await until(() => journalLength(data) >= target);
      await labProcess.stop('SIGKILL');
      labProcess = await start();
    }
    sent.push(gateway.release(messages));
    await Promise.all(sent);
    const stored = storedIn(data, messages);
    try {
      await until(async () => (await stored.all()).length >= messages);
      const outcome = await pots.outcome(labProcess, data);
      const rows = await stored.all();
      const wrong = rows.filter(({ probe, at, celsius }, index) => {
        const expected = reading(index);
        return probe !== expected.probe || at !== expected.at || Math.abs(celsius - expected.celsius) > 1e-9;
      });
      return {
        acknowledged: gateway.acknowledged.size,
        stored: rows.length,
        wrong: wrong.length,
        ...outcome,
      };
    } finally {
      stored.close();
    }
  } finally {
    gateway.end();
    await labProcess.stop('SIGKILL');
    await pots.close();
    await remove();
  }
};
