// Acknowledged QoS 1 messages a second through decode, journal, rules and store, against a bare `mqtt` subscriber: live
// readings of a warm lab, one a message and fifty a message, and readings of last month. Both are processes of their
// own on the same Mosquitto, connected, with MQTT 5 and 1000 messages allowed on the way. Both are halted (SIGSTOP)
// while a round of messages is published, so that the broker queues it for each; then one after the other goes on
// (SIGCONT) and is timed until it has taken the whole round: ours until the last reading is committed in the store, the
// peer until its listener saw the last message. One more figure is of intake alone (acknowledged and in the
// journal on disk), which then takes over the product's session. Times are by the clock, and of processors of each.

import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as delay } from 'node:timers/promises';
import { openDatabase } from '../../lab/database/database.ts';
import type { Lab } from '../../lab/lab.ts';
import { readLabFile } from '../../lab/lab-file/read-lab-file.ts';
import { startMosquitto } from '../integration/mosquitto.ts';
import { type LastReading, openPublisher, WORKLOADS, type Workload } from './ingest/workloads.ts';
import { processorMillisOf } from './processor/processor-millis.ts';

/** Rounds that are measured, after one that only warms both up. */
const ROUNDS = 5;
const GIVES_UP_MILLIS = 120_000;
const LAB_FILE = 'lab/files/demo.yaml';
const COMMITTED =
  'acknowledged and committed in the store, a round ended by a message that has all before it committed at once';

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

interface Taken {
  readonly seconds: number;
  readonly processorMillis: number;
}

/** Lets a halted process go on until `isDone`, then halts it again. */
const timeRound = async ({ child }: Runner, isDone: () => boolean): Promise<Taken> => {
  const [start, workedBefore] = [performance.now(), processorMillisOf(child.pid ?? 0)];
  child.kill('SIGCONT');
  while (!isDone()) {
    if (performance.now() - start > GIVES_UP_MILLIS)
      throw new Error('a round was not taken within two minutes: what it waits for did not come');
    await delay(2);
  }
  const seconds = (performance.now() - start) / 1000;
  child.kill('SIGSTOP');
  return { seconds, processorMillis: processorMillisOf(child.pid ?? 0) - workedBefore };
};

const killRunner = async ({ child }: Runner): Promise<void> => {
  if (child.exitCode !== null || child.signalCode !== null) return;
  const ended = once(child, 'exit');
  child.kill('SIGKILL');
  await ended;
};

const median = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? Number.NaN;
const spread = (values: readonly number[]): string =>
  `${Math.round(Math.min(...values))} to ${Math.round(Math.max(...values))}`;

const print = (
  workload: Workload,
  name: string,
  what: string,
  ours: readonly Taken[],
  bare: readonly Taken[],
) => {
  const rates = (all: readonly Taken[]) => all.map(({ seconds }) => workload.messages / seconds);
  const microseconds = (all: readonly Taken[]) =>
    Math.round((median(all.map(({ processorMillis }) => processorMillis)) / workload.messages) * 10_000) / 10;
  const readings = Math.round(median(rates(ours)) * workload.readingsAMessage);
  console.log(
    JSON.stringify({
      name,
      value: Math.round(median(rates(ours))),
      unit: 'messages/s',
      peer: 'bare mqtt subscriber on the same broker',
      peer_value: Math.round(median(rates(bare))),
      ratio: Math.round((median(rates(ours)) / median(rates(bare))) * 1000) / 1000,
      n: workload.messages,
      note: `QoS 1, ${workload.what}, ${what}; ${readings} readings/s; median of ${ours.length} rounds, ours ${spread(rates(ours))}, peer ${spread(rates(bare))}; processor time a message ${microseconds(ours)} us, peer ${microseconds(bare)} us`,
    }),
  );
};

export const run = async (): Promise<void> => {
  const lab = demoLab();
  const broker = await startMosquitto();
  const data = mkdtempSync(join(tmpdir(), 'waxwarden-bench-'));
  const publish = openPublisher(broker.url, lab);
  const single = WORKLOADS.find(({ name }) => name === 'ingest');
  if (single === undefined) throw new Error('there is no workload of single readings');
  const startPeer = (messages: number) =>
    startNode(
      [
        join(import.meta.dirname, 'peers', 'bare-subscriber.js'),
        ...[broker.url, `wax/${lab.site.id}/+/senml`, String(messages)],
      ],
      'stands',
    );
  const labProcess = await startNode(
    ['dist/cli/main.js', '--data', data, '--port', '0', '--broker', broker.url, '--lab', LAB_FILE],
    'Open http',
  );
  const runners = [labProcess];
  const database = openDatabase(join(data, 'waxwarden.db'));
  const connection = database.reader();
  const isFresh = connection.prepare<[string, number], number>(
    'SELECT 1 FROM reading JOIN series ON series.id = reading.series WHERE probe = ? AND at = ?',
  );
  const isSealed = connection.prepare<[number], number>('SELECT 1 FROM reading_pack WHERE end > ?');
  // Messages are applied in their order, so the last one stands for all.
  const isStored = ({ probe, at }: LastReading): boolean =>
    isFresh.get(probe, at) !== undefined || isSealed.get(at) !== undefined;
  let bareOfSingle: readonly Taken[] = [];
  try {
    for (const workload of WORKLOADS) {
      const peer = await startPeer(workload.messages);
      runners.push(peer);
      const [ours, bare]: [Taken[], Taken[]] = [[], []];
      for (let round = 0; round <= ROUNDS; round += 1) {
        for (const { child } of [labProcess, peer]) child.kill('SIGSTOP');
        const last = await publish(workload, { isHurried: true });
        const bareTaken = await timeRound(peer, () => peer.printed('taken') > round);
        const ourTaken = await timeRound(labProcess, () => isStored(last));
        if (round === 0) continue;
        bare.push(bareTaken);
        ours.push(ourTaken);
      }
      await killRunner(peer);
      print(workload, workload.name, COMMITTED, ours, bare);
      if (workload === single) bareOfSingle = bare;
    }
    await killRunner(labProcess);
    const intake = await startNode(
      [
        join(import.meta.dirname, 'peers', 'intake-alone.js'),
        ...[broker.url, lab.site.id, String(single.messages), join(data, 'alone')],
      ],
      'stands',
    );
    runners.push(intake);
    const alone: Taken[] = [];
    for (let round = 0; round <= ROUNDS; round += 1) {
      intake.child.kill('SIGSTOP');
      await publish(single, { isHurried: false });
      const taken = await timeRound(intake, () => intake.printed('taken') > round);
      if (round > 0) alone.push(taken);
    }
    print(
      single,
      'ingest-acknowledged',
      'intake alone, acknowledged and in the journal on disk',
      alone,
      bareOfSingle,
    );
  } finally {
    for (const runner of runners) await killRunner(runner);
    database.close();
    await broker.dispose();
    rmSync(data, { recursive: true, force: true });
  }
};
