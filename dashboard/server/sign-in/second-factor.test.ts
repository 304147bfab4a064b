import { existsSync, readFileSync } from 'node:fs';
import { Secret, TOTP } from 'otpauth';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import {
  type Browser,
  PASSWORDS,
  type ServerForTests,
  serverForTests,
} from '../../../tests/server-for-tests.ts';
import { openSignIn } from './sign-in.ts';

const PATH = '/api/account/second-factor';
const PHONE = {
  endpoint: 'https://fcm.googleapis.com/fcm/send/one',
  keys: { p256dh: 'B'.repeat(87), auth: 'a'.repeat(22) },
  name: 'Blue phone',
};

describe('the second factor of a person', () => {
  let test: ServerForTests;
  let mara: Browser;
  let secret: string;
  let recoveryCodes: readonly string[];
  const codeNow = () =>
    new TOTP({ secret: Secret.fromBase32(secret) }).generate({ timestamp: test.lab.running.now() });
  const begin = async (browser: Browser, password: string) =>
    (await browser.send('POST', PATH, { password })).json();
  beforeEach(async () => {
    test = await serverForTests();
    mara = await test.manager();
    await mara.send('POST', '/api/push/subscriptions', PHONE);
    ({ secret } = await begin(mara, PASSWORDS.manager));
    ({ recoveryCodes } = (await mara.send('PUT', PATH, { code: codeNow() })).json());
    test.lab.pass(30);
  });
  afterEach(() => test.close());

  const signIn = async (secondFactor?: string, browser = test.browser()) =>
    browser.send('POST', '/api/session', {
      name: 'Mara',
      password: PASSWORDS.manager,
      ...(secondFactor !== undefined && { secondFactor }),
    });
  const ownView = async () => (await mara.send('GET', '/api/session')).json().person;
  const notices = () =>
    test.lab.running.notices.outbox
      .newest(50)
      .flatMap(({ kind, body }) => (kind === 'account' ? [body.account?.what] : []));

  it('is demanded after the right password alone, and lets in with the code of now', async () => {
    expect((await signIn()).json()).toMatchObject({ status: 401, code: 'second-factor-needed' });
    const wrong = { name: 'Mara', password: 'not the password of Mara', secondFactor: codeNow() };
    const refused = await test.browser().send('POST', '/api/session', wrong);
    expect(refused.json().code).toBe('wrong-name-or-password');
    expect((await signIn('000000')).json()).toMatchObject({ status: 401, code: 'wrong-second-factor' });
    expect((await signIn(codeNow())).statusCode).toBe(200);
  });

  it('takes no code a second time, not even of two sign-ins at once', async () => {
    const code = codeNow();
    const both = await Promise.all([signIn(code), signIn(code)]);
    expect(both.map(({ statusCode }) => statusCode).sort()).toEqual([200, 401]);
    expect((await signIn(code)).json().code).toBe('wrong-second-factor');
    test.lab.pass(30);
    expect((await signIn(codeNow())).statusCode).toBe(200);
  });

  it('takes each recovery code once, as it may be typed, and the person is notified', async () => {
    expect(new Set(recoveryCodes).size).toBe(10);
    const [code = ''] = recoveryCodes;
    expect((await signIn(` ${code.toLowerCase().replace('-', ' ')} `)).statusCode).toBe(200);
    expect((await signIn(code)).json().code).toBe('wrong-second-factor');
    expect((await ownView()).secondFactor).toEqual({ recoveryCodesLeft: 9 });
    expect(notices()).toEqual(['recovery_code_used', 'second_factor_on']);
  });

  it('slows guesses of a code, and the right one is not even looked at meanwhile', async () => {
    for (let guess = 0; guess < 5; guess += 1) await signIn(`00000${guess}`);
    const slowed = await signIn(codeNow());
    expect([slowed.statusCode, slowed.json().code]).toEqual([429, 'too-many-attempts']);
    test.lab.pass(60);
    expect((await signIn(codeNow())).statusCode).toBe(200);
  });

  it('is demanded with a one-time code too, which a wrong one does not use up', async () => {
    const anna = await test.person(mara, 'manager', 'Anna');
    const id = (await ownView()).id;
    const { code } = (await anna.send('POST', `/api/people/${id}/invite`)).json();
    const join = (more: object) =>
      test.browser().send('POST', '/api/join', { code, password: 'nine green candles at dawn', ...more });
    expect((await join({})).json().code).toBe('second-factor-needed');
    expect((await join({ secondFactor: '000000' })).json().code).toBe('wrong-second-factor');
    expect((await signIn(codeNow())).statusCode).toBe(200);
    test.lab.pass(30);
    expect((await join({ secondFactor: codeNow() })).statusCode).toBe(200);
  });

  it('counts for nothing before a code of it was typed, and then ends the other sessions', async () => {
    const tom = await test.person(mara, 'technician', 'Tom');
    const elsewhere = test.browser();
    const signInTom = () =>
      elsewhere.send('POST', '/api/session', { name: 'Tom', password: PASSWORDS.technician });
    ({ secret } = await begin(tom, PASSWORDS.technician));
    expect((await signInTom()).statusCode).toBe(200);
    expect((await tom.send('PUT', PATH, { code: '000000' })).json().code).toBe('wrong-second-factor');
    expect((await tom.send('PUT', PATH, { code: codeNow() })).statusCode).toBe(200);
    expect((await elsewhere.send('GET', '/api/stations')).statusCode).toBe(401);
    expect((await tom.send('GET', '/api/stations')).statusCode).toBe(200);
    expect((await signInTom()).json().code).toBe('second-factor-needed');
  });

  it('slows guesses of its first code too', async () => {
    ({ secret } = await begin(mara, PASSWORDS.manager));
    const guess = async (code: string) => (await mara.send('PUT', PATH, { code })).json().code;
    for (let tries = 0; tries < 4; tries += 1) expect(await guess('000000')).toBe('wrong-second-factor');
    expect(await guess(codeNow())).toBe('too-many-attempts');
  });

  it('is begun and switched off with the password alone, and notified', async () => {
    for (const path of [PATH, `${PATH}/off`])
      expect((await mara.send('POST', path, { password: 'not the password of Mara' })).statusCode).toBe(401);
    // What is begun anew leaves the old one as it is.
    await begin(mara, PASSWORDS.manager);
    expect((await signIn(codeNow())).statusCode).toBe(200);
    expect((await mara.send('POST', `${PATH}/off`, { password: PASSWORDS.manager })).statusCode).toBe(200);
    expect((await signIn()).statusCode).toBe(200);
    expect(await ownView()).not.toHaveProperty('secondFactor');
    expect((await signIn(recoveryCodes[0])).statusCode).toBe(200);
    expect(notices()).toEqual(['second_factor_off', 'second_factor_on']);
  });

  it('is removed by another manager for a lost phone, and by nobody else', async () => {
    const [anna, tom] = [
      await test.person(mara, 'manager', 'Anna'),
      await test.person(mara, 'technician', 'Tom'),
    ];
    const path = `/api/people/${(await ownView()).id}/second-factor`;
    expect((await tom.send('DELETE', path)).statusCode).toBe(403);
    expect((await signIn()).statusCode).toBe(401);
    expect((await anna.send('DELETE', path)).statusCode).toBe(200);
    expect((await signIn()).statusCode).toBe(200);
    expect(notices()).toContain('second_factor_off');
    const rows = (await anna.send('GET', '/api/audit')).json<{ action: string; actor: string }[]>();
    expect(rows.find(({ action }) => action === 'second-factor-off')).toMatchObject({ actor: 'Anna' });
  });

  it('is in no lab file, no row of the audit trail and no list of people, nor its recovery codes anywhere', async () => {
    const answers = await Promise.all(
      ['/api/lab-file', '/api/audit?limit=200', '/api/people', '/api/session'].map((path) =>
        mara.send('GET', path),
      ),
    );
    const { writer } = test.lab.database;
    const stored = JSON.stringify([
      writer.prepare('SELECT * FROM recovery_code').all(),
      writer.prepare('SELECT * FROM audit').all(),
    ]);
    for (const hidden of [secret, ...recoveryCodes, ...recoveryCodes.map((code) => code.replace('-', ''))]) {
      expect(stored).not.toContain(hidden);
      for (const { body } of answers) expect(body).not.toContain(hidden);
    }
  });

  it('is not inherited by a later person of the same name', async () => {
    const tom = await test.person(mara, 'technician', 'Tom');
    ({ secret } = await begin(tom, PASSWORDS.technician));
    await tom.send('PUT', PATH, { code: codeNow() });
    expect((await mara.send('DELETE', '/api/people/tom')).statusCode).toBe(200);
    const namesake = await test.person(mara, 'technician', 'Tom');
    expect((await namesake.send('GET', '/api/session')).json().person).not.toHaveProperty('secondFactor');
  });

  it('keeps its secret sealed, also one that an earlier version kept as it is', async () => {
    const { database, running } = test.lab;
    const stored = () =>
      database.writer.prepare<[], string>('SELECT secret FROM second_factor').pluck().all();
    const inFile = () =>
      ['', '-wal'].some((end) => {
        const file = `${database.writer.name}${end}`;
        return existsSync(file) && readFileSync(file).includes(secret);
      });
    expect([stored().length, inFile()]).toEqual([1, false]);
    database.writer.prepare('UPDATE second_factor SET secret = ?').run(secret);
    expect(inFile()).toBe(true);
    openSignIn(running, database);
    expect([stored().length, inFile()]).toEqual([1, false]);
    expect((await signIn(codeNow())).statusCode).toBe(200);
  });

  it('stays usable after the clock of the lab was a year ahead', async () => {
    const year = 365 * 86_400;
    test.lab.pass(year);
    expect((await signIn(codeNow())).statusCode).toBe(200);
    test.lab.pass(-year);
    expect((await signIn(codeNow())).statusCode).toBe(200);
  });
});

describe('an e-mail address that is changed', () => {
  it.each(['by its person', 'by a manager'])(
    '%s is notified to the mailbox that it was, and to it alone',
    async (by) => {
      const test = await serverForTests();
      const mara = await test.manager();
      const mail = {
        host: 'mail.lab.example',
        port: 25,
        security: 'none',
        user: '',
        from: 'wax@lab.example',
      };
      await mara.send('PUT', '/api/connections/mail', mail);
      const { id, hasPassword: _, ...person } = (await mara.send('GET', '/api/session')).json().person;
      const { name: __, role: ___, ...preferences } = person;
      const change = (email: string | null) =>
        by === 'by a manager'
          ? mara.send('PUT', `/api/people/${id}`, { ...person, email })
          : mara.send('PUT', '/api/account', { ...preferences, email });
      for (const email of ['old@lab.example', 'old@lab.example', 'new@lab.example'])
        expect((await change(email)).statusCode).toBe(200);
      const rows = test.lab.running.notices.outbox.newest(50).filter(({ kind }) => kind === 'account');
      expect(rows).toMatchObject([
        { channel: 'mail', body: { account: { what: 'email_changed', mailbox: 'old@lab.example' } } },
      ]);
      await test.close();
    },
  );
});
