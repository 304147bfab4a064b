import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { PASSWORDS, type ServerForTests, serverForTests } from '../../../tests/server-for-tests.ts';
import { firstPersonCode } from './sign-in.ts';

describe('sign-in', () => {
  let test: ServerForTests;
  beforeEach(async () => {
    test = await serverForTests();
  });
  afterEach(() => test.close());

  it('shows nobody more than that the program runs, and demands a sign-in for the rest', async () => {
    const stranger = test.browser();
    const health = (await stranger.send('GET', '/api/health')).json();
    expect(health).toMatchObject({ status: 'ok', site: 'test-lab' });
    expect(health).not.toHaveProperty('version');
    expect(health).not.toHaveProperty('parts');
    const answer = await stranger.send('GET', '/api/stations');
    expect(answer.statusCode).toBe(401);
    expect(answer.headers['www-authenticate']).toBe('Bearer');
    expect(answer.json()).toMatchObject({ code: 'sign-in-needed' });
  });

  it('has no password from the start: only the printed code makes the first manager, and only once', async () => {
    const stranger = test.browser();
    expect((await stranger.send('GET', '/api/session')).json()).toMatchObject({ needsFirstPerson: true });
    for (const password of ['', 'admin', 'password'])
      expect((await stranger.send('POST', '/api/session', { name: 'admin', password })).statusCode).not.toBe(
        200,
      );
    const code = firstPersonCode(test.lab.running, test.lab.database);
    const joining = {
      code: code?.toLowerCase().replace('-', ' '),
      name: 'Mara',
      password: PASSWORDS.manager,
    };
    const joined = await stranger.send('POST', '/api/join', joining);
    expect(joined.json()).toMatchObject({ signedIn: true, standpoint: 'manager', needsFirstPerson: false });
    const second = await test.browser().send('POST', '/api/join', { ...joining, name: 'Eve' });
    expect(second.statusCode).toBe(403);
    expect(firstPersonCode(test.lab.running, test.lab.database)).toBeNull();
  });

  it('makes the code of an earlier start worthless', async () => {
    const old = firstPersonCode(test.lab.running, test.lab.database);
    firstPersonCode(test.lab.running, test.lab.database);
    const answer = await test
      .browser()
      .send('POST', '/api/join', { code: old, name: 'Eve', password: PASSWORDS.viewer });
    expect(answer.json()).toMatchObject({ status: 403, code: 'wrong-code' });
  });

  it('hands the session to the browser so that neither scripts nor other sites get it', async () => {
    const manager = await test.manager();
    const answer = await manager.send('POST', '/api/session', {
      name: ' mara ',
      password: PASSWORDS.manager,
    });
    expect(answer.cookies[0]).toMatchObject({
      name: 'waxwarden',
      httpOnly: true,
      sameSite: 'Strict',
      path: '/',
    });
    expect(answer.cookies[0]).not.toHaveProperty('secure');
  });

  it('takes the __Host- name and Secure over HTTPS, and no other cookie there', async () => {
    await test.close();
    test = await serverForTests({ trustedProxies: ['127.0.0.1'] });
    await test.manager();
    const https = { origin: 'https://localhost:8080', 'x-forwarded-proto': 'https' };
    const browser = test.browser();
    const signIn = { name: 'Mara', password: PASSWORDS.manager };
    const answer = await browser.send('POST', '/api/session', signIn, https);
    expect(answer.cookies[0]).toMatchObject({ name: '__Host-waxwarden', secure: true, path: '/' });
    expect(answer.cookies[0]).not.toHaveProperty('domain');
    expect((await browser.send('GET', '/api/people', undefined, https)).statusCode).toBe(200);
    browser.cookie = browser.cookie.replace('__Host-', '');
    expect((await browser.send('GET', '/api/people', undefined, https)).statusCode).toBe(401);
  });

  it('gives a new session at each sign-in and ends the one before', async () => {
    const manager = await test.manager();
    const before = manager.cookie;
    await manager.send('POST', '/api/session', { name: 'Mara', password: PASSWORDS.manager });
    expect(manager.cookie).not.toBe(before);
    const thief = test.browser();
    thief.cookie = before;
    expect((await thief.send('GET', '/api/people')).statusCode).toBe(401);
  });

  it('slows wrong passwords ever more, and a right one is not even looked at meanwhile', async () => {
    await test.manager();
    const attacker = test.browser();
    const attempt = (password: string) => attacker.send('POST', '/api/session', { name: 'Mara', password });
    const waits: number[] = [];
    for (let round = 0; round < 20; round += 1) {
      const answer = await attempt(`wrong ${round}`);
      if (answer.statusCode !== 429) {
        expect(answer.statusCode).toBe(401);
        continue;
      }
      waits.push(Number(answer.headers['retry-after']));
      expect((await attempt(PASSWORDS.manager)).statusCode).toBe(429);
      test.lab.pass(waits.at(-1) ?? 0);
    }
    expect(waits.length).toBeGreaterThan(4);
    expect(waits).toEqual([...waits].sort((first, second) => first - second));
    expect(waits.at(-1)).toBeGreaterThan(10 * (waits[0] ?? 0));
    expect(waits.at(-1)).toBeLessThanOrEqual(900);
    test.lab.pass(900);
    expect((await attempt(PASSWORDS.manager)).statusCode).toBe(200);
  });

  it('keeps nobody waiting for longer than a quarter of an hour when the clock is set back by a day', async () => {
    await test.manager();
    const attempt = () => test.browser().send('POST', '/api/session', { name: 'Mara', password: 'wrong' });
    for (let round = 0; round < 5; round += 1) await attempt();
    test.lab.pass(-86_400);
    const answer = await attempt();
    expect(answer.statusCode).toBe(429);
    expect(Number(answer.headers['retry-after'])).toBeLessThanOrEqual(900);
  });

  it('never locks the only manager out while strangers try from everywhere', async () => {
    await test.manager();
    for (let round = 0; round < 130; round += 1)
      await test.server.inject({
        method: 'POST',
        url: '/api/session',
        remoteAddress: `10.1.${round % 5}.${round}`,
        payload: { name: 'Mara', password: `guess ${round}` },
      });
    const stranger = await test.server.inject({
      method: 'POST',
      url: '/api/session',
      remoteAddress: '10.9.9.9',
      payload: { name: 'Mara', password: 'another guess' },
    });
    expect(stranger.statusCode).toBe(429);
    // From where the manager is signed in already, the strangers' tries do not count.
    const manager = await test
      .browser()
      .send('POST', '/api/session', { name: 'Mara', password: PASSWORDS.manager });
    expect(manager.statusCode).toBe(200);
  });

  it('answers an unknown name exactly as a wrong password', async () => {
    await test.manager();
    const wrong = await test.browser().send('POST', '/api/session', { name: 'Mara', password: 'wrong' });
    const unknown = await test.browser().send('POST', '/api/session', { name: 'Nobody', password: 'wrong' });
    expect(unknown.statusCode).toBe(wrong.statusCode);
    expect(unknown.json()).toEqual(wrong.json());
  });

  it('takes no one-time code of a clock that ran ahead once it is set back, but for a small step', async () => {
    const manager = await test.manager();
    const codeOf = async (name: string): Promise<string> =>
      (await manager.send('POST', '/api/people', { name, role: 'technician' })).json().code;
    const join = (code: string) =>
      test.browser().send('POST', '/api/join', { code, password: PASSWORDS.technician });
    const [first, second] = [await codeOf('Tom'), await codeOf('Ute')];
    test.lab.pass(-86_400);
    expect((await join(first)).statusCode).toBe(200);
    test.lab.pass(-365 * 86_400);
    expect((await join(second)).json()).toMatchObject({ status: 403, code: 'wrong-code' });
  });

  it('slows guesses of the one-time code too', async () => {
    const guesser = test.browser();
    const statuses: number[] = [];
    for (let round = 0; round < 8; round += 1) {
      const guess = { code: `AAAAA-AAAA${round}`, name: 'Eve', password: PASSWORDS.viewer };
      statuses.push((await guesser.send('POST', '/api/join', guess)).statusCode);
    }
    expect(statuses.slice(0, 3)).toEqual([403, 403, 403]);
    expect(statuses.slice(5)).toEqual([429, 429, 429]);
  });

  it.each([
    ['short', 'seven77'],
    ['common', 'password123'],
    ['the name of the person', 'Mara'.padEnd(8, '1')],
    ['the name of the lab', 'test-lab1'],
  ])('refuses a password that is %s', async (_why, password) => {
    const code = firstPersonCode(test.lab.running, test.lab.database);
    const answer = await test.browser().send('POST', '/api/join', { code, name: 'Mara', password });
    expect(answer.json()).toMatchObject({ status: 400, code: 'password-refused' });
  });

  it('takes a password of 64 characters and more, whatever letters it has', async () => {
    const code = firstPersonCode(test.lab.running, test.lab.database);
    const password = 'Wachs schmilzt, ß und 蝋 auch: '.repeat(3);
    const answer = await test.browser().send('POST', '/api/join', { code, name: 'Mara', password });
    expect(answer.statusCode).toBe(200);
    expect((await test.browser().send('POST', '/api/session', { name: 'Mara', password })).statusCode).toBe(
      200,
    );
  });

  it.each([
    ['manager', 12 * 3600],
    ['technician', 7 * 86_400],
    ['viewer', 7 * 86_400],
  ] as const)(
    'ends the session of a %s that was idle for %d seconds, and any after thirty days',
    async (role, seconds) => {
      const manager = await test.manager();
      const idle = role === 'manager' ? manager : await test.person(manager, role, 'Tom');
      const status = async () => (await idle.send('GET', '/api/stations')).statusCode;
      test.lab.pass(seconds - 1);
      expect(await status()).toBe(200);
      test.lab.pass(seconds);
      expect(await status()).toBe(401);
      await idle.send('POST', '/api/session', {
        name: role === 'manager' ? 'Mara' : 'Tom',
        password: PASSWORDS[role],
      });
      for (let halfDays = 0; halfDays < 30 * 3; halfDays += 1) {
        expect(await status()).toBe(200);
        test.lab.pass(86_400 / 3);
      }
      expect(await status()).toBe(401);
    },
  );

  it('keeps programs and persons apart: neither may bear the name of the other, and histories show which it was', async () => {
    const manager = await test.manager();
    const token = (name: string) => manager.send('POST', '/api/tokens', { name, role: 'technician' });
    expect((await token(' MARA ')).json()).toMatchObject({ code: 'name-taken' });
    const { secret } = (await token('Grapher')).json<{ secret: string }>();
    const person = await manager.send('POST', '/api/people', { name: 'Grapher (api)', role: 'viewer' });
    expect(person.json()).toMatchObject({ code: 'name-taken' });
    const { id } = test.lab.raise('over-ceiling', 'pot-1');
    const answer = await test.server.inject({
      method: 'POST',
      url: `/api/alarms/${id}/acknowledge`,
      headers: { authorization: `Bearer ${secret}`, host: 'localhost' },
    });
    expect(answer.statusCode).toBe(200);
    expect(test.lab.running.alarm(id)?.acknowledgedBy).toBe('Grapher (API)');
    const rows = (await manager.send('GET', '/api/audit')).json<readonly { readonly actor: string }[]>();
    expect(rows.map(({ actor }) => actor)).toContain('Grapher (API)');
  });

  it('demands the password again for set-up and people after half an hour, and not for alarms', async () => {
    const manager = await test.manager();
    const { id } = test.lab.raise('over-ceiling', 'pot-1');
    test.lab.pass(31 * 60);
    const refused = await manager.send('GET', '/api/people');
    expect(refused.json()).toMatchObject({ status: 403, code: 'confirm-password' });
    expect((await manager.send('POST', `/api/alarms/${id}/acknowledge`)).statusCode).toBe(200);
    expect((await manager.send('POST', '/api/session/confirm', { password: 'wrong' })).statusCode).toBe(401);
    await manager.send('POST', '/api/session/confirm', { password: PASSWORDS.manager });
    expect((await manager.send('GET', '/api/people')).statusCode).toBe(200);
  });

  it('lets neither a session nor a typed password of a clock that ran ahead hold for years once it is set back', async () => {
    const manager = await test.manager();
    test.lab.pass(-31 * 60);
    expect((await manager.send('GET', '/api/people')).json()).toMatchObject({ code: 'confirm-password' });
    test.lab.pass(-365 * 86_400);
    expect((await manager.send('GET', '/api/stations')).statusCode).toBe(401);
  });

  it('lists where a person is signed in and ends a lost phone', async () => {
    const manager = await test.manager();
    const phone = test.browser();
    await phone.send(
      'POST',
      '/api/session',
      { name: 'Mara', password: PASSWORDS.manager },
      { 'user-agent': 'a phone' },
    );
    const sessions = (await manager.send('GET', '/api/account/sessions')).json<
      { id: string; agent: string; isThisOne: boolean }[]
    >();
    const lost = sessions.find((session) => session.agent === 'a phone');
    expect(sessions).toHaveLength(2);
    expect(lost).toMatchObject({ isThisOne: false });
    await manager.send('DELETE', `/api/account/sessions/${lost?.id}`);
    expect((await phone.send('GET', '/api/stations')).statusCode).toBe(401);
    expect((await manager.send('GET', '/api/stations')).statusCode).toBe(200);
  });

  it('ends the other sessions when the password changes', async () => {
    const manager = await test.manager();
    const secondBrowser = test.browser();
    await secondBrowser.send('POST', '/api/session', { name: 'Mara', password: PASSWORDS.manager });
    const change = { password: PASSWORDS.manager, newPassword: 'a wholly different sentence' };
    expect((await manager.send('PUT', '/api/account/password', change)).statusCode).toBe(200);
    expect((await secondBrowser.send('GET', '/api/stations')).statusCode).toBe(401);
    expect((await manager.send('GET', '/api/stations')).statusCode).toBe(200);
  });

  it('keeps the last manager, and ends the sessions of whoever is removed or gets another role', async () => {
    const manager = await test.manager();
    const technician = await test.person(manager, 'technician', 'Tom');
    expect((await manager.send('DELETE', '/api/people/mara')).json()).toMatchObject({
      status: 409,
      code: 'last-manager',
    });
    const [, tom] = (await manager.send('GET', '/api/people')).json<{ id: string }[]>();
    const { id: _id, hasPassword: _has, ...body } = { hasPassword: true, ...tom };
    expect((await manager.send('PUT', '/api/people/tom', { ...body, role: 'viewer' })).statusCode).toBe(200);
    expect((await technician.send('GET', '/api/stations')).statusCode).toBe(401);
    await technician.send('POST', '/api/session', { name: 'Tom', password: PASSWORDS.technician });
    expect((await technician.send('GET', '/api/session')).json()).toMatchObject({ standpoint: 'viewer' });
    await manager.send('DELETE', '/api/people/tom');
    expect((await technician.send('GET', '/api/stations')).statusCode).toBe(401);
    expect(
      (await technician.send('POST', '/api/session', { name: 'Tom', password: PASSWORDS.technician }))
        .statusCode,
    ).toBe(401);
  });
});
