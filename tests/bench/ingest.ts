// Acknowledged QoS 1 messages a second through decode, journal, rules and store, against a bare `mqtt` subscriber.
// Both are processes of their own on the same Mosquitto, warm, connected, with MQTT 5 and 1000 messages allowed on
// the way. Both are halted (SIGSTOP) while a round of messages is published, so that the broker queues it for each;
// then one after the other goes on (SIGCONT) and is timed until it has taken the whole round: ours until the last
// reading is committed in the store, the peer until its listener saw the last message. A second figure is of intake
// alone (acknowledged and in the journal on disk), which then takes over the product's session.

import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as delay } from 'node:timers/promises';
import { connectAsync } from 'mqtt';
import { openDatabase } from '../../lab/database.ts';
import type { Lab } from '../../lab/lab.ts';
import { readLabFile } from '../../lab/read-lab-file.ts';
import { startMosquitto } from '../integration/mosquitto.ts';

const MESSAGES = 20_000;
/** Rounds that are measured, after one that only warms both up. */
const ROUNDS = 5;
const LAB_FILE = 'lab/files/demo.yaml';
const SECONDS_APART = 2;
/** Far enough back that no round reaches today. */
const START_SECONDS = Math.floor(Date.now() / 1000) - 30 * 86_400;

const demoLab = (): Lab => {
  const reading = readLabFile(readFileSync(LAB_FILE, 'utf8'));
  if (!reading.ok) throw new Error(`${LAB_FILE} cannot be read`);
  return reading.lab;
};

interface Runner {
  readonly child: ChildProcess;
  /** How often the text was printed so far. */
  readonly printed: (text: string) => number;
}

const startNode = async (args: readonly string[], ready: string): Promise<Runner> => {
  const child = spawn(process.execPath, args, { stdio: ['ignore', 'pipe', 'inherit'] });
  let output = '';
  child.stdout?.on('data', (chunk) => {
    output += chunk;
  });
  const printed = (text: string) => output.split(text).length - 1;
  while (printed(ready) === 0) {
    if (child.exitCode !== null) throw new Error(`${args[0]} ended with ${child.exitCode}: ${output}`);
    await delay(5);
  }
  return { child, printed };
};

/** Lets a halted process go on and answers messages a second until `isDone`, then halts it again. */
const timed = async ({ child }: Runner, isDone: () => boolean): Promise<number> => {
  const start = performance.now();
  child.kill('SIGCONT');
  while (!isDone()) await delay(2);
  const rate = MESSAGES / ((performance.now() - start) / 1000);
  child.kill('SIGSTOP');
  return rate;
};

const killed = async ({ child }: Runner): Promise<void> => {
  if (child.exitCode !== null || child.signalCode !== null) return;
  const ended = once(child, 'exit');
  child.kill('SIGKILL');
  await ended;
};

const publish = async (url: string, lab: Lab, from: number): Promise<void> => {
  const client = await connectAsync(url, { clientId: 'publisher' });
  const probes = lab.probes.filter(({ station }) => station !== null);
  let sent: Promise<unknown>[] = [];
  for (let index = 0; index < MESSAGES; index += 1) {
    const probe = probes[index % probes.length];
    if (probe === undefined) throw new Error('the lab has no probes');
    const turn = Math.floor((from + index) / probes.length);
    const pack = [
      { n: probe.id, u: 'Cel', v: 20 + (turn % 50) / 10, t: START_SECONDS + turn * SECONDS_APART },
    ];
    const topic = `wax/${lab.site.id}/${probe.gateway}/senml`;
    sent.push(client.publishAsync(topic, JSON.stringify(pack), { qos: 1 }));
    if (sent.length < 1000) continue;
    await Promise.all(sent);
    sent = [];
  }
  await Promise.all(sent);
  await client.endAsync();
};

const median = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? Number.NaN;
const spread = (values: readonly number[]): string =>
  `${Math.round(Math.min(...values))} to ${Math.round(Math.max(...values))}`;

export const run = async (): Promise<void> => {
  const lab = demoLab();
  const broker = await startMosquitto();
  const data = mkdtempSync(join(tmpdir(), 'waxwarden-bench-'));
  const ours: number[] = [];
  const alone: number[] = [];
  const bare: number[] = [];
  const labProcess = await startNode(
    ['dist/cli/main.js', '--data', data, '--port', '0', '--broker', broker.url, '--lab', LAB_FILE],
    'Open http',
  );
  const peer = await startNode(
    [
      join(import.meta.dirname, 'peers', 'bare-subscriber.js'),
      broker.url,
      `wax/${lab.site.id}/+/senml`,
      String(MESSAGES),
    ],
    'stands',
  );
  let intake: Runner | null = null;
  const database = openDatabase(join(data, 'waxwarden.db'));
  // Rollups count only readings that were new, so their sum is the number of readings.
  const stored = database.reader().prepare<[], number>('SELECT total(count) FROM reading_hour').pluck();
  try {
    for (let round = 0; round <= ROUNDS; round += 1) {
      for (const { child } of [labProcess, peer]) child.kill('SIGSTOP');
      await publish(broker.url, lab, round * MESSAGES);
      const bareRate = await timed(peer, () => peer.printed('taken') > round);
      const ourRate = await timed(labProcess, () => (stored.get() ?? 0) >= (round + 1) * MESSAGES);
      if (round === 0) continue;
      bare.push(bareRate);
      ours.push(ourRate);
    }
    await killed(labProcess);
    intake = await startNode(
      [
        join(import.meta.dirname, 'peers', 'intake-alone.js'),
        broker.url,
        lab.site.id,
        String(MESSAGES),
        join(data, 'alone'),
      ],
      'stands',
    );
    for (let round = 0; round <= ROUNDS; round += 1) {
      intake.child.kill('SIGSTOP');
      await publish(broker.url, lab, round * MESSAGES);
      const rate = await timed(intake, () => (intake?.printed('taken') ?? 0) > round);
      if (round > 0) alone.push(rate);
    }
  } finally {
    for (const runner of [labProcess, peer, intake]) if (runner !== null) await killed(runner);
    database.close();
    await broker.dispose();
    rmSync(data, { recursive: true, force: true });
  }
  for (const { name, rates, what } of [
    { name: 'ingest', rates: ours, what: 'acknowledged and committed in the store' },
    {
      name: 'ingest-acknowledged',
      rates: alone,
      what: 'intake alone, acknowledged and in the journal on disk',
    },
  ])
    console.log(
      JSON.stringify({
        name,
        value: Math.round(median(rates)),
        unit: 'messages/s',
        peer: 'bare mqtt subscriber on the same broker',
        peer_value: Math.round(median(bare)),
        ratio: Math.round((median(rates) / median(bare)) * 1000) / 1000,
        n: MESSAGES,
        note: `QoS 1, one reading a message, ${what}; median of ${ROUNDS} rounds, ours ${spread(rates)}, peer ${spread(bare)}`,
      }),
    );
};
