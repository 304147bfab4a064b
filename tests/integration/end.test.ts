// The end of the process while what it is connected to hangs. Exit status 0 means that it closed everything in its time; what
// is cut off after four and a half seconds ends with 1.

import { once } from 'node:events';
import { connect, createServer } from 'node:net';
import { connectAsync } from 'mqtt';
import { afterEach, expect, it } from 'vitest';
import { startInflux } from './influx.ts';
import { joinAsFirst, startLabProcess } from './lab-process.ts';
import { until } from './until.ts';

const cleanups: (() => unknown)[] = [];
afterEach(async () => {
  for (const cleanup of cleanups.splice(0).reverse()) await cleanup();
});

const start = async (broker: string, ...args: readonly string[]) => {
  const lab = await startLabProcess({
    args: ['--port', '0', '--broker', broker, '--lab', 'lab/files/starter.yaml', ...args],
  });
  cleanups.push(() => lab.stop('SIGKILL'));
  return lab;
};
const brokerOf = (printed: string): URL => new URL(/mqtts?:\/\/[^\s]+/.exec(printed)?.[0] ?? '');
/** Takes connections and never sends anything. */
const silentServer = async (): Promise<{ readonly port: number; readonly connections: () => number }> => {
  let count = 0;
  const server = createServer((socket) => {
    count += 1;
    socket.on('error', () => {});
    cleanups.push(() => socket.destroy());
  });
  cleanups.push(() => server.close());
  server.listen(0, '127.0.0.1');
  await once(server, 'listening');
  const address = server.address();
  return {
    port: typeof address === 'object' && address !== null ? address.port : 0,
    connections: () => count,
  };
};

it('The process ends in its time while a query and a write wait for a server that hangs', async () => {
  const influx = await startInflux();
  cleanups.push(() => influx.dispose());
  const lab = await start('embedded:0', '--store', `influx:${influx.url}`);
  const cookie = await joinAsFirst(lab);
  const gateway = await connectAsync(brokerOf(lab.printed()).href);
  cleanups.push(() => gateway.endAsync(true));
  await gateway.publishAsync('wax/my-lab/gw/pot-1/celsius', '61', { qos: 1 });
  const ask = () => fetch(`${lab.address}/api/readings?probe=pot-1`, { headers: { cookie } });
  await until(async () => (await ask()).status === 200);
  process.kill(influx.processId(), 'SIGSTOP');
  cleanups.push(() => process.kill(influx.processId(), 'SIGCONT'));
  await gateway.publishAsync('wax/my-lab/gw/pot-1/celsius', '62', { qos: 1 });
  const query = ask().then(
    ({ status }) => status,
    () => 'cut',
  );
  await lab.get('/api/health');
  expect(await lab.stop()).toBe(0);
  expect(await query).toBe('cut');
});

it('The process ends in its time with connections whose handshake or request never ends', async () => {
  const lab = await start('embedded-tls:0', '--https', '--http-port', '0');
  const { port: brokerPort } = brokerOf(lab.printed());
  for (const port of [new URL(lab.address).port, brokerPort]) {
    const silent = connect(Number(port), '127.0.0.1');
    silent.on('error', () => {});
    cleanups.push(() => silent.destroy());
    await once(silent, 'connect');
  }
  expect(await lab.stop('SIGINT')).toBe(0);
});

it('The process ends in its time while sheets are drawn for many at once', async () => {
  const lab = await start('embedded:0');
  const cookie = await joinAsFirst(lab);
  // As many as one person may ask for at once; more are refused.
  const asked = Array.from({ length: 4 }, () =>
    fetch(`${lab.address}/api/night.pdf`, { headers: { cookie } }).then(
      async (answer) => (await answer.arrayBuffer()).byteLength,
      () => 'cut',
    ),
  );
  // The first one is whole, so the others wait for their turn or are being drawn.
  expect(await Promise.race(asked)).toBeGreaterThan(1000);
  expect(await lab.stop()).toBe(0);
  expect(await asked.at(-1)).toBe('cut');
});

it('The process ends in its time while a mail server, a webhook and a heartbeat wait for an answer', async () => {
  const silent = await silentServer();
  const lab = await start(
    'embedded:0',
    ...['--mail', `smtp://127.0.0.1:${silent.port}`, '--mail-from', 'wax@lab.example'],
    ...['--heartbeat', `http://127.0.0.1:${silent.port}/`],
  );
  const cookie = await joinAsFirst(lab);
  const put = async (path: string, body: object) => {
    const answer = await fetch(lab.address + path, {
      method: 'PUT',
      headers: { cookie, origin: lab.address, 'content-type': 'application/json' },
      body: JSON.stringify(body),
    });
    expect([path, answer.status]).toEqual([path, 200]);
  };
  await put('/api/account', {
    language: 'en',
    temperatureUnit: 'celsius',
    hourCycle: 'h23',
    email: 'ilse@lab.example',
    namesOnLockScreen: false,
    morningHeartbeat: false,
  });
  const url = `http://127.0.0.1:${silent.port}/in`;
  await put('/api/notification-plan', {
    rota: null,
    absences: [],
    outsideHours: ['urgent', 'high', 'medium', 'low'],
    heartbeatAt: null,
    escalation: [{ afterMinutes: 0, who: 'managers' }],
    lampTopics: [],
    webhooks: [{ id: 'chat', name: 'Chat', url, template: null }],
  });
  const test = async (body: object) =>
    (
      await fetch(`${lab.address}/api/notification-plan/test`, {
        method: 'POST',
        headers: { cookie, origin: lab.address, 'content-type': 'application/json' },
        body: JSON.stringify(body),
      })
    ).status;
  expect([
    await test({ channel: 'mail', address: 'ilse-brandt' }),
    await test({ channel: 'webhook', address: 'chat' }),
  ]).toEqual([200, 200]);
  await until(() => silent.connections() >= 3);
  expect(await lab.stop()).toBe(0);
});
