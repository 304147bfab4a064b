// Alarms on their way out, over real receivers: dead for an hour, and with the sender killed between any two steps.

import { spawn } from 'node:child_process';
import { createHmac } from 'node:crypto';
import { once } from 'node:events';
import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import { join } from 'node:path';
import { SMTPServer } from 'smtp-server';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { epochMillis } from '../../wax/units.ts';
import { noticeKeys, webhookSecret } from '../../alerts/notices/channels/notice-keys.ts';
import { type DeskOptions, deskForTests } from '../notice-desk-for-tests.ts';
import { bundleScript } from './bundled-script.ts';
import { temporaryFolder } from './lab-process.ts';

interface DeliveredNotice {
  readonly kind: string;
  readonly alarm: string;
  readonly repeat: boolean;
}
interface Post {
  readonly body: string;
  readonly headers: IncomingMessage['headers'];
}

let folder: { path: string; remove: () => Promise<void> };
let receiver: Server;
let posts: Post[];
/** What the receiver does when a message is in, before it answers. */
let onPost: (answer: ServerResponse) => void;

const listen = async (server: Server, port = 0): Promise<number> => {
  server.listen(port, '127.0.0.1');
  await once(server, 'listening');
  return (server.address() as AddressInfo).port;
};
const openReceiver = (): Server =>
  createServer((request, response) => {
    let body = '';
    request.on('data', (chunk) => {
      body += chunk;
    });
    request.on('end', () => {
      posts.push({ body, headers: request.headers });
      onPost(response);
    });
  });
const mailServer = (letters: string[]): SMTPServer =>
  new SMTPServer({
    authOptional: true,
    disabledCommands: ['STARTTLS'],
    onData: (stream, _session, done) => {
      let text = '';
      stream.on('data', (chunk) => {
        text += chunk;
      });
      stream.on('end', () => {
        letters.push(text);
        done();
      });
    },
  });
const listenForMail = async (server: SMTPServer, port = 0): Promise<number> => {
  const listening = server.listen(port, '127.0.0.1');
  await once(listening, 'listening');
  return (listening.address() as AddressInfo).port;
};
const deliveredNotices = (): readonly DeliveredNotice[] =>
  posts.map(({ body }) => JSON.parse(body) as DeliveredNotice);

beforeEach(async () => {
  folder = await temporaryFolder();
  posts = [];
  onPost = (response) => response.end();
  receiver = openReceiver();
});
afterEach(async () => {
  receiver.closeAllConnections();
  receiver.close();
  await folder.remove();
});

describe('receivers that are dead for an hour', () => {
  it('lose nothing, get nothing twice, and get it in order for each alarm, by e-mail and by webhook', async () => {
    let now = epochMillis(Date.parse('2031-03-04T22:00:00Z'));
    const letters: string[] = [];
    const openMail = () => mailServer(letters);
    const first = openMail();
    const mailPort = await listenForMail(first);
    const hookPort = await listen(receiver);
    const said: string[] = [];
    const test = deskForTests({
      folder: folder.path,
      webhook: `http://127.0.0.1:${hookPort}/in`,
      mail: { server: `smtp://127.0.0.1:${mailPort}`, from: 'alarms@lab.example' },
      now: () => now,
      after: () => () => {},
      reportSelfCheck: (text) => said.push(text),
    });
    test.change('pot-0', 'raised');
    await test.desk.runDue();
    // An alarm of an earlier process may be open, also about a channel that nothing goes to any more.
    const works = ['lamp', 'mail', 'mqtt', 'push', 'webhook'].map((channel) => `${channel} works`);
    expect(said.splice(0).sort()).toEqual([...works, 'notices work'].sort());
    await new Promise<void>((closed) => first.close(() => closed()));
    receiver.closeAllConnections();
    receiver.close();
    for (let minute = 1; minute <= 60; minute += 1) {
      now = epochMillis(now + 60_000);
      if (minute <= 8) test.change(`pot-${Math.ceil(minute / 2)}`, minute % 2 === 1 ? 'raised' : 'cleared');
      await test.desk.runDue();
    }
    expect(letters).toHaveLength(1);
    expect(posts).toHaveLength(1);
    // Each alarm was over before the mail server had failed three times for it.
    expect(said.sort()).toEqual(['mail fails', 'webhook fails']);

    const second = openMail();
    await listenForMail(second, mailPort);
    receiver = openReceiver();
    await listen(receiver, hookPort);
    for (let minute = 0; minute < 10; minute += 1) {
      now = epochMillis(now + 60_000);
      await test.desk.runDue();
    }
    expect(deliveredNotices()).toHaveLength(9);
    const kinds = new Map(
      [...grouped(deliveredNotices())].map(([pot, all]) => [pot, all.map(({ kind }) => kind)]),
    );
    expect(kinds.get('pot-0')).toEqual(['raised']);
    for (const pot of [1, 2, 3, 4]) expect(kinds.get(`pot-${pot}`)).toEqual(['raised', 'cleared']);
    expect(deliveredNotices().some(({ repeat }) => repeat)).toBe(false);
    const subjects = letters.map((letter) => /^Subject: (.*)$/m.exec(letter)?.[1]?.trim());
    // Nobody is asked by a letter to act on what was over before the letter could go.
    expect(subjects).toEqual(['Dringend: pot-0', ...[1, 2, 3, 4].map((pot) => `Vorbei: pot-${pot}`)]);
    expect(new Set(letters.map((letter) => /^Message-ID: (.*)$/im.exec(letter)?.[1])).size).toBe(5);
    expect(letters[0]).toMatch(/text\/plain[\s\S]*text\/html/);
    expect(said.slice(2).sort()).toEqual(['mail works', 'webhook works']);

    const secret = webhookSecret(noticeKeys(join(folder.path, 'notice-keys.json')), 'chat');
    for (const { body, headers } of posts) {
      const right = createHmac('sha256', secret).update(`${headers['waxwarden-time']} ${body}`).digest('hex');
      expect(headers['waxwarden-signature']).toBe(right);
      expect(headers['idempotency-key']).toBe(JSON.parse(body).key);
    }
    await test.close();
    await new Promise<void>((closed) => second.close(() => closed()));
  });

  it('report an unreached alarm once the third try of an open alarm failed, until a letter gets through', async () => {
    let now = epochMillis(Date.parse('2031-03-04T22:00:00Z'));
    const letters: string[] = [];
    const away = mailServer(letters);
    const mailPort = await listenForMail(away);
    await new Promise<void>((closed) => away.close(() => closed()));
    const hookPort = await listen(receiver);
    const said: string[] = [];
    const test = deskForTests({
      folder: folder.path,
      webhook: `http://127.0.0.1:${hookPort}/in`,
      mail: { server: `smtp://127.0.0.1:${mailPort}`, from: 'alarms@lab.example' },
      now: () => now,
      after: () => () => {},
      reportSelfCheck: (text) => said.push(text),
    });
    test.change('pot-0', 'raised');
    const sayings: string[][] = [];
    for (let attempt = 1; attempt <= 3; attempt += 1) {
      await test.desk.runDue();
      sayings.push(said.splice(0).sort());
      now = epochMillis(now + 60_000);
    }
    // A machine that was notified is no person.
    expect(posts).toHaveLength(1);
    const atStart = ['lamp works', 'mqtt works', 'push works', 'webhook works'];
    expect(sayings).toEqual([atStart, [], ['mail fails', 'notices fail']]);
    const back = mailServer(letters);
    await listenForMail(back, mailPort);
    await test.desk.runDue();
    expect(letters).toHaveLength(1);
    expect(said.sort()).toEqual(['mail works', 'notices work']);
    await test.close();
    await new Promise<void>((closed) => back.close(() => closed()));
  });

  it('go out after a start without a new alarm, when an earlier process left them', async () => {
    const receivedIt = new Promise<void>((received) => {
      onPost = (response) => {
        response.end();
        received();
      };
    });
    const port = await listen(receiver);
    const desk = (after: DeskOptions['after']) =>
      deskForTests({
        folder: folder.path,
        webhook: `http://127.0.0.1:${port}/in`,
        mail: null,
        now: () => epochMillis(Date.now()),
        after,
      });
    const earlier = desk(() => () => {});
    earlier.change('pot-1', 'raised');
    await earlier.close();
    expect(posts).toHaveLength(0);
    const later = desk((millis, work) => {
      const timer = setTimeout(work, millis);
      return () => clearTimeout(timer);
    });
    await receivedIt;
    expect(deliveredNotices()).toMatchObject([{ kind: 'raised', alarm: 'pot-1', repeat: false }]);
    await later.close();
  });

  it('are not followed to where they redirect', async () => {
    onPost = (response) => response.writeHead(302, { location: '/elsewhere' }).end();
    const now = epochMillis(Date.parse('2031-03-04T22:00:00Z'));
    const port = await listen(receiver);
    const test = deskForTests({
      folder: folder.path,
      webhook: `http://127.0.0.1:${port}/in`,
      mail: null,
      now: () => now,
      after: () => () => {},
    });
    test.change('pot-1', 'raised');
    await test.desk.runDue();
    expect(posts).toHaveLength(1);
    expect(test.desk.outbox.newest(9).find(({ channel }) => channel === 'webhook')).toMatchObject({
      state: 'failed',
      answer: { code: 'answered', values: { status: 302 } },
    });
    await test.close();
  });
});

describe('a sender that is killed', () => {
  let sender: Awaited<ReturnType<typeof bundleScript>>;
  beforeAll(async () => {
    sender = await bundleScript('tests/integration/notice-child.ts');
  });
  afterAll(() => sender?.remove());

  it('delivers every alarm, none more than twice, and marks the second time as a repeat', async () => {
    const port = await listen(receiver);
    const child = (subject: string) =>
      spawn(
        process.execPath,
        [
          ...['--disable-warning=ExperimentalWarning', sender.file],
          ...[folder.path, `http://127.0.0.1:${port}/in`, subject],
        ],
        { stdio: ['ignore', 'pipe', 'inherit'] },
      );
    const rounds = 50;
    for (let round = 0; round < rounds; round += 1) {
      const sender = child(`pot-${round}`);
      const kill = () => sender.kill('SIGKILL');
      // In turn: after the commit and before the send, and after the send and before that is written down.
      if (round % 2 === 0) sender.stdout.once('data', kill);
      onPost = (response) =>
        round % 2 === 1 && deliveredNotices().at(-1)?.alarm === `pot-${round}` ? kill() : response.end();
      await once(sender, 'exit');
    }
    onPost = (response) => response.end();
    await once(child(''), 'exit');
    const times = grouped(deliveredNotices());
    expect(times.size).toBe(rounds);
    for (const all of times.values()) {
      expect(all.length).toBeLessThanOrEqual(2);
      expect(all.map(({ repeat }) => repeat)).toEqual(all.length === 2 ? [false, true] : [all[0]?.repeat]);
    }
    expect(posts.length).toBeGreaterThan(rounds);
  });
});

const grouped = (all: readonly DeliveredNotice[]): Map<string, DeliveredNotice[]> => {
  const groups = new Map<string, DeliveredNotice[]>();
  for (const each of all) groups.set(each.alarm, [...(groups.get(each.alarm) ?? []), each]);
  return groups;
};
