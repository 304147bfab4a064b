// The mail server that a manager sets, with real mail servers: a letter goes to the one that is set now.

import { once } from 'node:events';
import { readFileSync, writeFileSync } from 'node:fs';
import type { AddressInfo } from 'node:net';
import { join } from 'node:path';
import { SMTPServer } from 'smtp-server';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { startPushService } from '../push-service.ts';
import { type Browser, type ServerForTests, serverForTests } from '../server-for-tests.ts';
import { startLabProcess, temporaryFolder } from './lab-process.ts';
import { until } from './until.ts';

interface Mailbox {
  readonly port: number;
  readonly subjects: string[];
  readonly senders: string[];
  readonly recipients: string[];
  readonly logins: string[];
  readonly close: () => Promise<void>;
}

const openMailbox = async (): Promise<Mailbox> => {
  const subjects: string[] = [];
  const senders: string[] = [];
  const recipients: string[] = [];
  const logins: string[] = [];
  const server = new SMTPServer({
    authOptional: true,
    allowInsecureAuth: true,
    disabledCommands: ['STARTTLS'],
    onAuth: ({ username, password }, _, done) => {
      logins.push(`${username}:${password}`);
      done(null, { user: username });
    },
    onData: (stream, { envelope }, done) => {
      senders.push(envelope.mailFrom === false ? '' : envelope.mailFrom.address);
      recipients.push(...envelope.rcptTo.map(({ address }) => address));
      let letter = '';
      stream.on('data', (chunk) => (letter += chunk));
      stream.on('end', () => {
        subjects.push(/^Subject: (.*)\r$/m.exec(letter)?.[1] ?? '');
        done();
      });
    },
  });
  const listening = server.listen(0, '127.0.0.1');
  await once(listening, 'listening');
  return {
    port: (listening.address() as AddressInfo).port,
    subjects,
    senders,
    recipients,
    logins,
    close: () => new Promise((closed) => server.close(() => closed())),
  };
};

it('a lab file that changes an e-mail address at a start is reported to the mailbox that it was, once', async () => {
  const mailbox = await openMailbox();
  const folder = await temporaryFolder();
  const file = join(folder.path, 'lab.yaml');
  const mail = ['--mail', `smtp://127.0.0.1:${mailbox.port}`, '--mail-from', 'wax@lab.example'];
  const startWith = async (email: string) => {
    writeFileSync(
      file,
      `${readFileSync('lab/files/starter.yaml', 'utf8')}\npeople:\n  - { id: mara, name: Mara, role: manager, email: ${email} }\n`,
    );
    const args = ['--port', '0', '--broker', 'embedded:0', '--lab', file, ...mail];
    return startLabProcess({ data: join(folder.path, 'data'), args });
  };
  try {
    for (const email of ['old@lab.example', 'new@lab.example']) await (await startWith(email)).stop();
    const last = await startWith('newest@lab.example');
    await until(() => mailbox.recipients.length >= 2);
    await last.stop();
    expect(mailbox.recipients).toEqual(['old@lab.example', 'new@lab.example']);
  } finally {
    await mailbox.close();
    await folder.remove();
  }
});

describe('a mail server that is set while the program runs', () => {
  let test: ServerForTests;
  let manager: Browser;
  let first: Mailbox;
  let second: Mailbox;
  beforeEach(async () => {
    [first, second] = await Promise.all([openMailbox(), openMailbox()]);
    test = await serverForTests();
    manager = await test.manager();
    const { lab, repository } = test.lab.running;
    for (const person of lab().people) repository.savePerson({ ...person, email: 'mara@lab.example' });
  });
  afterEach(async () => {
    await test.lab.running.notices.stop();
    await test.close();
    await Promise.all([first.close(), second.close()]);
  });
  const set = (mailbox: Mailbox, more: object) =>
    manager.send('PUT', '/api/connections/mail', {
      host: '127.0.0.1',
      port: mailbox.port,
      security: 'none',
      user: '',
      from: 'alarms@lab.example',
      ...more,
    });
  /** What became of a test of the route. */
  const sendTest = async (): Promise<object> => {
    test.lab.pass(60);
    const { number } = (
      await manager.send('POST', '/api/notification-plan/test', { channel: 'mail', address: '' })
    ).json<{ number: number }>();
    await test.lab.running.notices.runDue();
    const { rows } = (await manager.send('GET', '/api/outbox?limit=500')).json<{
      rows: { number: number }[];
    }>();
    return rows.find((row) => row.number === number) ?? {};
  };

  it('gets the letter, with its login and sender, and so does the next one that takes its place', async () => {
    await set(first, { user: 'waxlab', password: 'p@ss:word' });
    expect(await sendTest()).toMatchObject({ state: 'delivered' });
    expect(first.logins).toEqual(['waxlab:p@ss:word']);
    expect(first.senders).toEqual(['alarms@lab.example']);
    await set(second, { from: 'wax@lab.example' });
    expect(await sendTest()).toMatchObject({ state: 'delivered' });
    expect(second.senders).toEqual(['wax@lab.example']);
    expect(second.logins).toEqual([]);
    expect(first.senders).toHaveLength(1);
  });

  it('brings the word of a changed e-mail address to the mailbox that it was, and alarms to the new one', async () => {
    await set(first, {});
    const account = {
      language: 'en',
      temperatureUnit: 'celsius',
      hourCycle: 'h23',
      email: 'new@lab.example',
    };
    const wishes = { namesOnLockScreen: false, morningHeartbeat: false };
    expect((await manager.send('PUT', '/api/account', { ...account, ...wishes })).statusCode).toBe(200);
    await test.lab.running.notices.runDue();
    expect(first.recipients).toEqual(['mara@lab.example']);
    await sendTest();
    expect(first.recipients).toEqual(['mara@lab.example', 'new@lab.example']);
  });

  it('gets an alarm that no push brings, once pushes failed three times, and its end when pushes work again', async () => {
    const service = await startPushService();
    await test.close();
    test = await serverForTests({ pushHosts: [service.host], pushAgent: service.agent });
    manager = await test.manager();
    const { running } = test.lab;
    for (const person of running.lab().people)
      running.repository.savePerson({ ...person, email: 'mara@lab.example' });
    await set(first, {});
    await manager.send('POST', '/api/push/subscriptions', { ...service.subscribe(), name: 'Blue phone' });
    for (let tries = 0; tries < 6; tries += 1) service.answerNext(500);
    const { id } = test.lab.raise('fire-risk', 'pot-1', 'urgent');
    const passMinutes = async (minutes: number) => {
      for (let minute = 0; minute < minutes; minute += 1) {
        test.lab.pass(60);
        test.lab.tick();
        await running.notices.runDue();
      }
    };
    await running.notices.runDue();
    await passMinutes(2);
    expect(first.recipients).toEqual([]);
    await passMinutes(3);
    expect(first.recipients).toEqual(['mara@lab.example']);
    await passMinutes(2);
    expect(service.received.length).toBeGreaterThan(0);
    test.lab.step(id, {
      type: 'act',
      at: running.now(),
      act: { type: 'acknowledge', alarm: id, by: 'Mara' },
    });
    await running.notices.runDue();
    expect(first.recipients).toEqual(['mara@lab.example', 'mara@lab.example']);
    await service.close();
  });

  it('gets a name as it is written, also one that mailboxes would decode to another', async () => {
    await set(first, {});
    const { running } = test.lab;
    const [pot] = running.lab().stations;
    if (pot === undefined) throw new Error('The lab of the test has no station.');
    running.repository.saveStation({ ...pot, name: '=?UTF-8?Q?All=20is=20well?=' });
    test.lab.raise('fire-risk', pot.id, 'urgent');
    await running.notices.runDue();
    expect(first.subjects).toEqual([expect.stringContaining('= ?UTF-8?Q?All=20is=20well?=')]);
  });

  it('that offers no encryption gets neither letter nor password where STARTTLS was set', async () => {
    await set(first, { security: 'starttls', user: 'waxlab', password: 'p@ss:word' });
    expect(await sendTest()).toMatchObject({
      state: 'failed',
      answer: { code: 'own-words', values: { text: expect.stringMatching(/STARTTLS/i) } },
    });
    expect(first.logins).toEqual([]);
    expect(first.senders).toEqual([]);
  });
});
