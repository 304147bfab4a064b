// Each way by which alarms leave the lab fails in a running process, over real receivers: the wall names it and who does
// not get alarms, the ways that work carry the alarm and the news of it, and it is over when the way works again.

import { once } from 'node:events';
import { writeFileSync } from 'node:fs';
import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { join } from 'node:path';
import { connectAsync, type MqttClient } from 'mqtt';
import { SMTPServer } from 'smtp-server';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { AlarmView } from '../../dashboard/api/schemas.ts';
import { type PushService, startPushService } from '../push-service.ts';
import { askAs, type LabProcess, joinAsFirst, startLabProcess, temporaryFolder } from './lab-process.ts';
import { type Mosquitto, startMosquitto } from './mosquitto.ts';
import { until } from './until.ts';

const POTS = ['webhook', 'lamp', 'mqtt', 'mail', 'push', 'removed'];
const LAB = `
site: { id: mill-lane, name: Mill Lane Laboratory, timeZone: Europe/Lisbon }
stations: [${POTS.map((pot) => `{ id: ${pot}, name: Pot ${pot}, kind: melt-pot, wax: inlay-type-2 }`).join(', ')}]
probes: [${POTS.map((pot) => `{ id: ${pot}-a, station: ${pot}, gateway: gw-1, uncertainty_celsius: 0.5 }`).join(', ')}]
`;
const VAPOUR_IGNITES_CELSIUS = 230;
const LAMP = 'lamps/bench';

let folder: { path: string; remove: () => Promise<void> };
let push: PushService;
let mail: SMTPServer;
let hooks: Server;
let broker: Mosquitto;
let labProcess: LabProcess;
let client: MqttClient;
let cookie: string;
let phone: ReturnType<PushService['subscribe']>;
let writeRights: (refused: readonly string[]) => void;
/** Of the webhook "Pager"; "Chat" always takes what comes. */
let pagerStatus = 200;
let isMailboxClosed = false;
const chat: { rule: string; kind: string; subject: string }[] = [];
const letters: string[] = [];

const ask = (method: string, path: string, body?: object): Promise<Response> =>
  askAs(labProcess, cookie, method, path, body);
const openAlarm = async (rule: string, subject: string): Promise<AlarmView | undefined> => {
  const all = (await (await ask('GET', '/api/alarms')).json()) as readonly AlarmView[];
  return all.find((each) => each.rule === rule && each.subject === subject && each.clearedAt === null);
};
const overheat = async (pot: string): Promise<AlarmView> => {
  // One reading alone raises no alarm.
  const now = Date.now() / 1000;
  const pack = [now - 1, now].map((t) => ({ n: `${pot}-a`, u: 'Cel', v: VAPOUR_IGNITES_CELSIUS, t }));
  await client.publishAsync('wax/mill-lane/gw-1/senml', JSON.stringify(pack), { qos: 1 });
  return until(() => openAlarm('fire-risk', pot));
};
const failing = (channel: string) => until(() => openAlarm('channel-failing', `channel-${channel}`));
const isOver = (channel: string) =>
  until(async () => (await openAlarm('channel-failing', `channel-${channel}`)) === undefined);
const test = (channel: string, address = '') =>
  ask('POST', '/api/notification-plan/test', { channel, address });
const chatHas = (rule: string, subject: string) =>
  until(() => chat.some((each) => each.rule === rule && each.subject === subject && each.kind === 'raised'));
const phoneShows = (text: string) =>
  until(() => push.received.some(({ payload }) => `${payload.title}\n${payload.body}`.includes(text)));
const savePlan = async (change: object): Promise<void> => {
  const { plan } = (await (await ask('GET', '/api/notification-plan')).json()) as { plan: object };
  await ask('PUT', '/api/notification-plan', { ...plan, ...change });
};

const openReceivers = async (): Promise<{ hookPort: number; mailPort: number }> => {
  hooks = createServer((request, response) => {
    const chunks: Buffer[] = [];
    request.on('data', (chunk: Buffer) => chunks.push(chunk));
    request.on('end', () => {
      if (request.url === '/chat') chat.push(JSON.parse(Buffer.concat(chunks).toString()));
      response.writeHead(request.url === '/chat' ? 200 : pagerStatus).end();
    });
  }).listen(0, '127.0.0.1');
  mail = new SMTPServer({
    authOptional: true,
    disabledCommands: ['STARTTLS'],
    onRcptTo: (_address, _session, done) =>
      done(isMailboxClosed ? Object.assign(new Error('No such mailbox'), { responseCode: 550 }) : null),
    onData: (stream, _session, done) => {
      const chunks: Buffer[] = [];
      stream.on('data', (chunk: Buffer) => chunks.push(chunk));
      stream.on('end', () => {
        letters.push(Buffer.concat(chunks).toString());
        done();
      });
    },
  });
  const listening = mail.listen(0, '127.0.0.1');
  await Promise.all([once(hooks, 'listening'), once(listening, 'listening')]);
  const portOf = (server: { address: () => unknown }) => (server.address() as AddressInfo).port;
  return { hookPort: portOf(hooks), mailPort: portOf(listening) };
};

beforeAll(async () => {
  folder = await temporaryFolder();
  push = await startPushService();
  const { hookPort, mailPort } = await openReceivers();
  const rights = join(folder.path, 'rights');
  writeRights = (refused) =>
    writeFileSync(
      rights,
      ['topic readwrite #', ...refused.map((topic) => `topic deny ${topic}`), ''].join('\n'),
    );
  writeRights([]);
  broker = await startMosquitto({
    configuration: (_, port) =>
      [
        `listener ${port} 127.0.0.1`,
        'allow_anonymous true',
        `acl_file ${rights}`,
        'user root',
        'log_dest none',
        '',
      ].join('\n'),
  });
  writeFileSync(join(folder.path, 'lab.yaml'), LAB);
  writeFileSync(join(folder.path, 'push-service.pem'), push.certificate);
  labProcess = await startLabProcess({
    data: join(folder.path, 'data'),
    args: [
      ...['--port', '0', '--broker', broker.url, '--push-hosts', push.host],
      ...[
        '--lab',
        join(folder.path, 'lab.yaml'),
        '--mail',
        `smtp://127.0.0.1:${mailPort}`,
        '--mail-from',
        'alarms@lab.example',
      ],
    ],
    env: { NODE_EXTRA_CA_CERTS: join(folder.path, 'push-service.pem') },
  });
  cookie = await joinAsFirst(labProcess);
  await ask('PUT', '/api/account', {
    language: 'en',
    temperatureUnit: 'celsius',
    hourCycle: 'h23',
    email: 'ilse@lab.example',
    mail: 'always',
    namesOnLockScreen: false,
    morningHeartbeat: false,
  });
  phone = push.subscribe();
  await ask('POST', '/api/push/subscriptions', { ...phone, name: 'Blue phone' });
  await savePlan({
    webhooks: ['chat', 'pager'].map((id) => ({
      id,
      name: id === 'chat' ? 'Chat' : 'Pager',
      template: null,
      url: `http://127.0.0.1:${hookPort}/${id}`,
    })),
    lampTopics: [LAMP],
  });
  client = await connectAsync(broker.url, { clientId: 'gw-1' });
  await client.subscribeAsync(LAMP);
});
afterAll(async () => {
  await client?.endAsync(true);
  await labProcess?.stop();
  await broker?.dispose();
  await push?.close();
  await new Promise<void>((closed) => mail.close(() => closed()));
  hooks.closeAllConnections();
  hooks.close();
  await folder?.remove();
});

describe('a way out that fails while the others work', () => {
  it('is named when it is one of two webhooks, the other one takes alarm and news, and it ends with a test', async () => {
    pagerStatus = 404;
    await overheat('webhook');
    const said = await failing('webhook');
    expect(said.message).toContain('“Pager”. The answer was 404.');
    await chatHas('fire-risk', 'webhook');
    await chatHas('channel-failing', 'channel-webhook');
    await phoneShows('Pager');
    pagerStatus = 200;
    await test('webhook', 'pager');
    await isOver('webhook');
  });

  it('is named when it is a lamp that nobody has connected, and ends when one is', async () => {
    await client.unsubscribeAsync(LAMP);
    await overheat('lamp');
    expect((await failing('lamp')).message).toContain(`“${LAMP}”. The broker accepted it, but nobody`);
    await chatHas('fire-risk', 'lamp');
    await chatHas('channel-failing', 'channel-lamp');
    await phoneShows(LAMP);
    await client.subscribeAsync(LAMP);
    await test('lamp', LAMP);
    await isOver('lamp');
  });

  it('is named when the broker refuses changes of alarms, and ends when it takes them', async () => {
    await broker.stop();
    writeRights(['wax/+/change/#']);
    await broker.start();
    await until(() => client.connected);
    await overheat('mqtt');
    expect((await failing('mqtt')).message).toContain('The broker refuses it');
    await chatHas('fire-risk', 'mqtt');
    await chatHas('channel-failing', 'channel-mqtt');
    await phoneShows('MQTT');
    await broker.stop();
    writeRights([]);
    await broker.start();
    await until(async () => {
      await test('mqtt');
      return (await openAlarm('channel-failing', 'channel-mqtt')) === undefined;
    });
  });

  it('is named when a mailbox is refused, the phone takes alarm and news, and it ends with a test', async () => {
    isMailboxClosed = true;
    const { id } = await overheat('mail');
    const said = await failing('mail');
    expect(said.message).toMatch(/“Ilse Brandt”\..*No such mailbox/);
    await until(() => push.received.some(({ payload }) => payload.tag === id));
    await phoneShows('No such mailbox');
    isMailboxClosed = false;
    await test('mail');
    await isOver('mail');
  });

  it('is named when the push service refuses a phone, a letter takes alarm and news, and the next push ends it', async () => {
    push.answerNext(403);
    await overheat('push');
    const said = await failing('push');
    expect(said.message).toContain('“Blue phone, Ilse Brandt”. The push service refuses this sender (403)');
    await until(() => letters.some((letter) => letter.includes('Pot push')));
    await until(() => letters.some((letter) => letter.includes('Blue phone')));
    await ask('POST', '/api/push/test', { endpoint: phone.endpoint });
    await isOver('push');
  });

  it('is over when a webhook that fails is removed from the plan', async () => {
    pagerStatus = 404;
    await overheat('removed');
    await failing('webhook');
    await savePlan({ webhooks: [] });
    await isOver('webhook');
  });
});
