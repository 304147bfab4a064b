// Made-up messages over a broker into a running lab. Each bears a name of its own, so that it can be looked for in the
// lab's journal: something of it was taken, or it was refused and quarantined. For the test and, with many more, the bench.

import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { connectAsync } from 'mqtt';
import type { AlarmView } from '../../dashboard/api/schemas.ts';
import { tailReader } from '../../collector/journal/tail-reader.ts';
import type { Entry } from '../../lab/entry.ts';
import { MALFORMED_MAPPING, type MadeMessage, malformedMessages } from '../malformed-messages.ts';
import { journalLength } from './journal-entries.ts';
import { joinAsFirst, startLabProcess, temporaryFolder } from './lab-process.ts';
import { until } from './until.ts';

/** Messages on the way at once, each with another name. */
const ROUND = 1000;
/** What is not in the journal by then is lost. */
const PATIENCE_MILLIS = 120_000;
/** The built-in broker reads a thousand packets a second of a connection. */
const CLIENTS = 8;

export interface DoorCounts {
  /** Of which the broker has acknowledged each. */
  readonly sent: number;
  readonly accepted: number;
  readonly quarantined: number;
  /** Messages of Sparkplug: some wait for others, or hold no temperatures, so they are not looked for. */
  readonly sparkplug: number;
  /** All others of which the journal got nothing; there must be none. */
  readonly lost: number;
}

/** The name stands for the gateway, or for the device behind a mapping. */
const withName = ({ topic, ...message }: MadeMessage, name: string): MadeMessage => ({
  ...message,
  topic: topic.replace(/^(wax\/lab-1|tele)\/[^/]+/, `$1/${name}`),
});
const NAME = /^m\d+$/;
const namesOf = (entry: Entry): readonly string[] => {
  if (entry.kind === 'rejection') return entry.topic.split('/').filter((part) => NAME.test(part));
  if (entry.kind === 'readings' && entry.gateway === 'loggers')
    return entry.readings.map(({ probe }) => probe);
  return 'gateway' in entry ? [entry.gateway] : [];
};

/** What becomes of each name, read from where the journal ended when this was called. */
const journalOf = (data: string) => {
  const reader = tailReader(join(data, 'journal'));
  let at = journalLength(data);
  return {
    /** Sorts names of new entries into one of the two sets. */
    read: (taken: Set<string>, refused: Set<string>): void => {
      const { entries, offsets } = reader.read(at, journalLength(data));
      for (const entry of entries)
        for (const name of namesOf(entry)) (entry.kind === 'rejection' ? refused : taken).add(name);
      // An entry that is being written is read the next time.
      at = offsets.at(-1) ?? at;
    },
    close: reader.close,
  };
};

export interface BrokerDoor {
  readonly url: string;
  /** Its versions of MQTT: 4 is 3.1.1. */
  readonly versions: readonly (4 | 5)[];
}

/**
 * Publishes `count` messages, QoS 1, by each version in turn. `data` is the folder of the lab that takes them.
 */
export const sendThroughBroker = async (
  { url, versions }: BrokerDoor,
  data: string,
  count: number,
  seed: number,
): Promise<DoorCounts> => {
  const nextMessage = malformedMessages(seed);
  const clients = await Promise.all(
    Array.from({ length: CLIENTS }, (_, index) =>
      connectAsync(url, { protocolVersion: versions[index % versions.length] ?? 4, reconnectPeriod: 0 }),
    ),
  );
  const journal = journalOf(data);
  const counts = { sent: 0, accepted: 0, quarantined: 0, sparkplug: 0, lost: 0 };
  try {
    while (counts.sent < count) {
      const round = Array.from({ length: Math.min(ROUND, count - counts.sent) }, (_, index) => ({
        name: `m${index}`,
        ...withName(nextMessage(), `m${index}`),
      }));
      await Promise.all(
        round.map(({ topic, payload }, index) =>
          clients[index % clients.length]?.publishAsync(topic, Buffer.from(payload), { qos: 1 }),
        ),
      );
      const expected = round.flatMap(({ topic, name }) => (topic.includes(`/${name}/`) ? [name] : []));
      const [taken, refused] = [new Set<string>(), new Set<string>()];
      const isLost = (name: string): boolean => !taken.has(name) && !refused.has(name);
      const latest = performance.now() + PATIENCE_MILLIS;
      await until(() => {
        journal.read(taken, refused);
        return !expected.some(isLost) || performance.now() > latest;
      });
      counts.sent += round.length;
      counts.accepted += expected.filter((name) => taken.has(name)).length;
      counts.quarantined += expected.filter((name) => refused.has(name) && !taken.has(name)).length;
      counts.lost += expected.filter(isLost).length;
      counts.sparkplug += round.length - expected.length;
    }
  } finally {
    journal.close();
    for (const client of clients) client.end(true);
  }
  return counts;
};

const LAB = `
site: { id: lab-1, name: Lower Lane Laboratory, time_zone: Europe/Vienna }
stations: [{ id: pot, name: Pot, kind: melt-pot, wax: inlay-type-2 }]
probes: [{ id: pot-wax, gateway: bench, station: pot }]
`;

/** A lab at the broker, with a pot that can get too hot, and the mapping that the made-up messages need. */
export const startAttackedLab = async (broker: string) => {
  const { path: folder, remove } = await temporaryFolder();
  const data = join(folder, 'data');
  await writeFile(join(folder, 'lab.yaml'), LAB);
  const lab = await startLabProcess({
    data,
    args: ['--port', '0', '--broker', broker, '--lab', join(folder, 'lab.yaml')],
  });
  const headers = { cookie: await joinAsFirst(lab), origin: lab.address, 'content-type': 'application/json' };
  const { id, ...mapping } = MALFORMED_MAPPING;
  const answer = await fetch(`${lab.address}/api/payload-mappings/${id}`, {
    method: 'PUT',
    headers,
    body: JSON.stringify(mapping),
  });
  if (!answer.ok) throw new Error(`mapping: ${answer.status} ${await answer.text()}`);
  const hasAlarm = async (): Promise<boolean> => {
    const alarms = await fetch(`${lab.address}/api/alarms`, { headers });
    return ((await alarms.json()) as readonly AlarmView[]).some(({ rule }) => rule === 'fire-risk');
  };
  return {
    data,
    pid: lab.process.pid ?? 0,
    /** Waits for ever when the pot at 300 °C raises no alarm. */
    heatPot: async (url: string): Promise<void> => {
      const client = await connectAsync(url);
      await until(async () => {
        await client.publishAsync('wax/lab-1/bench/pot-wax/celsius', '300', { qos: 1 });
        return hasAlarm();
      });
      client.end(true);
    },
    stop: async (): Promise<number | null> => {
      const status = await lab.stop();
      await remove();
      return status;
    },
  };
};
