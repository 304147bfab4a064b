// A broker with MQTT 3.1.1 alone, in a process of its own, with intake behind it; and several addresses.

import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { connectAsync } from 'mqtt';
import { afterEach, describe, expect, it } from 'vitest';
import type { Intake } from '../../collector/intake/intake.ts';
import { startIntake } from './built-intake.ts';
import { tailReader } from '../../collector/journal/tail-reader.ts';
import { freePort } from '../free-port.ts';
import { temporaryFolder } from './lab-process.ts';
import { until } from './until.ts';

const cleanups: (() => unknown)[] = [];
afterEach(async () => {
  for (const cleanup of cleanups.splice(0).reverse()) await cleanup();
});

const BROKER = `
import { createServer } from 'node:net';
import { Aedes } from 'aedes';
const aedes = await Aedes.createBroker();
createServer(aedes.handle).listen(Number(process.argv[1]), '127.0.0.1', () => console.log('listening'));
`;

interface Broker {
  readonly kill: () => Promise<void>;
  /** Its connections stay open; nothing is read from them any more. */
  readonly freeze: () => void;
}

async function startBroker(port: number): Promise<Broker> {
  const child: ChildProcess = spawn(process.execPath, ['--input-type=module', '-e', BROKER, String(port)], {
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  if (child.stdout !== null) await once(child.stdout, 'data');
  const kill = async (): Promise<void> => {
    if (child.exitCode !== null || child.signalCode !== null) return;
    const ended = once(child, 'exit');
    child.kill('SIGKILL');
    await ended;
  };
  cleanups.push(kill);
  return { kill, freeze: () => child.kill('SIGSTOP') };
}

async function collect(
  port: number,
  otherPorts: readonly number[] = [],
): Promise<Intake & { folder: string }> {
  const url = (of: number): string => `mqtt://127.0.0.1:${of}`;
  const { path: folder, remove } = await temporaryFolder();
  cleanups.push(remove);
  const intake = await startIntake({
    site: 'lab-1',
    journalFolder: folder,
    broker: {
      kind: 'external',
      url: url(port),
      ...(otherPorts.length > 0 && { otherUrls: otherPorts.map(url) }),
    },
  });
  cleanups.push(intake.stop);
  return { ...intake, folder };
}

const isConnected = (intake: Intake): boolean => intake.status().broker.state === 'connected';

async function publish(port: number, topic: string, payload: string): Promise<void> {
  const client = await connectAsync(`mqtt://127.0.0.1:${port}`, { protocolVersion: 4 });
  await client.publishAsync(topic, payload, { qos: 1 });
  await client.endAsync();
}

const readings = ({ folder, journalEnd }: Intake & { folder: string }) => {
  const reader = tailReader(folder);
  const { entries } = reader.read(0, journalEnd());
  reader.close();
  return entries.flatMap((entry) => (entry.kind === 'readings' ? entry.readings : []));
};
const pack = (celsius: number): string =>
  JSON.stringify([{ n: 'pot-1', u: 'Cel', v: celsius, t: Math.floor(Date.now() / 1000) }]);

describe('a broker with MQTT 3.1.1 alone', () => {
  it('delivers readings, and what the collector publishes is neither quarantined nor proven to arrive', async () => {
    const port = await freePort();
    await startBroker(port);
    const intake = await collect(port);
    await until(() => isConnected(intake));
    intake.publish('wax/lab-1/station/pot', '{"celsius":61}', { retain: true });
    intake.publish('wax/lab-1/lamp/bench', 'on', { retain: false });
    expect(await intake.deliver('lamps/bench', 'on')).toEqual({ kind: 'taken', receivers: 'unknown' });
    await publish(port, 'wax/lab-1/gw/senml', pack(61.5));
    await until(() => readings(intake).length === 1);
    expect(readings(intake)).toMatchObject([{ probe: 'pot-1', celsius: 61.5 }]);
    expect(intake.counts()).toMatchObject({ received: 1, acknowledged: 1, rejected: 0 });
  });

  it('is reached again after it has died', async () => {
    const port = await freePort();
    const { kill } = await startBroker(port);
    const intake = await collect(port);
    await until(() => isConnected(intake));
    await kill();
    await until(() => !isConnected(intake));
    await startBroker(port);
    await until(() => isConnected(intake));
    await publish(port, 'wax/lab-1/gw/senml', pack(62));
    await until(() => readings(intake).length === 1);
  });

  it.each(['frozen', 'killed'] as const)('that is %s does not hold up the end of intake', async (state) => {
    const port = await freePort();
    const { kill, freeze } = await startBroker(port);
    const intake = await collect(port);
    await until(() => isConnected(intake));
    if (state === 'frozen') freeze();
    else void kill();
    await intake.stop();
    expect(intake.counts()).toMatchObject({ rejected: 0 });
  });
});

it('of several brokers the next one is tried where one is away', async () => {
  const [first, second] = [await freePort(), await freePort()];
  const { kill } = await startBroker(second);
  const intake = await collect(first, [second]);
  await until(() => isConnected(intake));
  await publish(second, 'wax/lab-1/gw/senml', pack(61));
  await until(() => readings(intake).length === 1);
  await startBroker(first);
  await kill();
  await until(() => !isConnected(intake));
  await until(() => isConnected(intake));
  await publish(first, 'wax/lab-1/gw/senml', pack(62));
  await until(() => readings(intake).length === 2);
});
