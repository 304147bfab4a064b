// A fleet of simulated labs with 30 probes each reports to one copy of the group's process, over one broker node, into one
// PostgreSQL: does the copy store what the broker acknowledged, how much of a core and of memory does it take, and how
// long from an alarm in a lab to the group's screen. The peer of the alarm is a bare subscriber to the same broker.
// WAXWARDEN_BENCH_SECONDS in the environment: how long each run measures.

import { type ChildProcess, fork, spawn } from 'node:child_process';
import { once } from 'node:events';
import { readFileSync } from 'node:fs';
import { loadavg } from 'node:os';
import { join, resolve } from 'node:path';
import { setTimeout as delay } from 'node:timers/promises';
import { connectAsync } from 'mqtt';
import { GROUP_PARTITIONS } from '../../lab/group/group-message.ts';
import { startMosquitto } from '../integration/mosquitto.ts';
import { type Postgres, startPostgres } from '../integration/postgres.ts';
import { until } from '../integration/until.ts';
import { printTimes, roundToHundredth } from './alarm/print-times.ts';
import { watchScreen } from './group/screen.ts';

interface FleetSize {
  readonly name: string;
  readonly labs: number;
  readonly detail: 'minutes' | 'readings';
  /** How many times faster than the clock the labs' time runs. */
  readonly speed: number;
}

const SIZES: readonly FleetSize[] = [
  { name: 'group-10', labs: 10, detail: 'minutes', speed: 1 },
  { name: 'group-100', labs: 100, detail: 'minutes', speed: 1 },
  { name: 'group-100-readings', labs: 100, detail: 'readings', speed: 1 },
  { name: 'group-1000', labs: 1000, detail: 'minutes', speed: 1 },
  { name: 'group-1000-tenfold', labs: 1000, detail: 'minutes', speed: 10 },
];
const SECONDS = Number(process.env.WAXWARDEN_BENCH_SECONDS ?? 90);
const WARM_UP_SECONDS = 20;
const ALARM_APART_MILLIS = 400;
const TICKS_PER_SECOND = 100;
const MAIN = resolve('dist/group/main.js');

const residentMegabytes = (pid: number): number =>
  Number(/VmRSS:\s+(\d+)/.exec(readFileSync(`/proc/${pid}/status`, 'utf8'))?.[1]) / 1024;
const cpuSeconds = (pid: number): number => {
  const fields = readFileSync(`/proc/${pid}/stat`, 'utf8').split(') ')[1]?.split(' ') ?? [];
  return (Number(fields[11]) + Number(fields[12])) / TICKS_PER_SECOND;
};
const print = (line: Readonly<Record<string, string | number>>): void => console.log(JSON.stringify(line));

const startGroup = (postgres: Postgres, broker: string, args: readonly string[]) => {
  const child = spawn(process.execPath, ['--disable-warning=ExperimentalWarning', MAIN, ...args], {
    env: {
      ...process.env,

      WAXWARDEN_GROUP_POSTGRES: postgres.url,
      WAXWARDEN_GROUP_BROKER: broker,
      WAXWARDEN_GROUP_PORT: '0',
    },
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  let printed = '';
  child.stdout.on('data', (chunk) => {
    printed += chunk;
  });
  return { child, printed: () => printed };
};

const end = async (child: ChildProcess): Promise<void> => {
  if (child.exitCode !== null || child.signalCode !== null) return;
  const ended = once(child, 'exit');
  child.kill('SIGTERM');
  await ended;
};

const storedMinutes = async (postgres: Postgres): Promise<number> =>
  Number((await postgres.query<{ n: string }>('SELECT count(*) AS n FROM lab_minute'))[0]?.n);

async function measure(size: FleetSize): Promise<void> {
  const postgres = await startPostgres();
  const broker = await startMosquitto();
  const added = startGroup(postgres, broker.url, ['add-person', 'Ada Lind']);
  await once(added.child, 'exit');
  const group = startGroup(postgres, broker.url, []);
  const pid = group.child.pid ?? 0;
  const address = await until(() => /Open (http:\S+)\//.exec(group.printed())?.[1]);
  await until(
    async () =>
      (
        await postgres.query(
          "SELECT 1 FROM pg_locks WHERE locktype = 'advisory' AND objsubid = 2 AND mode = 'ExclusiveLock'",
        )
      ).length === GROUP_PARTITIONS,
  );
  const fleet = fork(
    join(import.meta.dirname, 'group', 'fleet.js'),
    [broker.url, String(size.labs), size.detail, String(size.speed)],
    { execArgv: ['--disable-warning=ExperimentalWarning'] },
  );
  await once(fleet, 'message');
  await until(async () => (await postgres.query('SELECT 1 FROM lab')).length === size.labs);
  const bare = await connectAsync(broker.url, { clientId: 'bare', protocolVersion: 5 });
  const bareSeen = new Map<string, number>();
  bare.on('message', (_topic, payload) => {
    const subject = /"subject":"(hot-\d+)"/.exec(payload.toString())?.[1];
    if (subject !== undefined && !bareSeen.has(subject)) bareSeen.set(subject, performance.now());
  });
  await bare.subscribeAsync('wax-group/+/+/standing', { qos: 1 });
  const screen = await watchScreen(address, added.printed().trim().split(' ').at(-1) ?? '');
  await delay(WARM_UP_SECONDS * 1000);

  const before = { memory: residentMegabytes(pid), cpu: cpuSeconds(pid), at: performance.now() };
  const ours: number[] = [];
  const peers: number[] = [];
  for (let number = 0; performance.now() - before.at < SECONDS * 1000; number += 1) {
    const subject = `hot-${number}`;
    // Whole, as it is in the page, so that hot-1 is not found in hot-12.
    const onScreen = ` ${subject},`;
    screen.expect(onScreen);
    const raisedAt = performance.now();
    fleet.send({ raise: subject, lab: Math.floor(Math.random() * size.labs) });
    const bareAt = await until(() => bareSeen.get(subject));
    const seenAt = await until(() => screen.seen(onScreen));
    peers.push(bareAt - raisedAt);
    ours.push(seenAt - raisedAt);
    await delay(Math.random() * ALARM_APART_MILLIS);
  }
  const seconds = (performance.now() - before.at) / 1000;
  const after = { memory: residentMegabytes(pid), cpu: cpuSeconds(pid) };
  const stopped = once(fleet, 'message');
  fleet.send('stop');
  const [{ delivered, waiting, cpuSeconds: fleetCpu }] = await stopped;
  const endedAt = performance.now();
  let stored = await storedMinutes(postgres);
  while (stored < delivered && performance.now() - endedAt < 60_000) {
    await delay(50);
    stored = await storedMinutes(postgres);
  }
  const behind = performance.now() - endedAt;
  screen.stop();
  await bare.endAsync(true);
  await end(group.child);
  await broker.dispose();
  await postgres.dispose();

  const load = `load average ${loadavg()[0]?.toFixed(1)}`;
  const note = `${size.labs} labs with 30 probes, ${size.detail}, ${size.speed} times the clock, ${Math.round(seconds)} s, ${load}`;
  printTimes(`${size.name}-alarm-to-screen`, ours, peers, note);
  const share = (after.cpu - before.cpu) / seconds;
  print({
    name: `${size.name}-core-share`,
    value: roundToHundredth(share),
    unit: 'cores',
    n: 1,
    note,

    peer: 'the process of the simulated labs, from its start',
    peer_value: roundToHundredth(fleetCpu / (seconds + WARM_UP_SECONDS)),
    ratio: roundToHundredth(share / (fleetCpu / (seconds + WARM_UP_SECONDS))),
  });
  print({
    name: `${size.name}-resident`,
    value: roundToHundredth(after.memory),
    unit: 'MB',
    n: 1,
    note,
    peer: 'the same process at the beginning of the run',
    peer_value: roundToHundredth(before.memory),
    ratio: roundToHundredth(after.memory / before.memory),
  });
  print({
    name: `${size.name}-minutes-stored`,
    value: stored,
    unit: 'minutes of a lab',
    n: 1,
    peer: 'minutes that the broker acknowledged to the labs',
    peer_value: delivered,
    ratio: roundToHundredth(stored / delivered),
    note: `${note}; ${waiting} waited in the labs; complete ${Math.round(behind)} ms after the labs ended`,
  });
}

export const run = async (): Promise<void> => {
  for (const size of SIZES) await measure(size);
};
