import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { buildServer } from '../build-server.ts';
import { PASSWORDS, type ServerForTests, serverForTests } from '../../../tests/server-for-tests.ts';

describe('tokens and wall links', () => {
  let test: ServerForTests;
  beforeEach(async () => {
    test = await serverForTests();
  });
  afterEach(() => test.close());

  it('gives a program a token that is shown once, keeps to its role and ends when it is taken back', async () => {
    const manager = await test.manager();
    const made = await manager.send('POST', '/api/tokens', { name: 'Graphs', role: 'viewer' });
    const { key, secret } = made.json<{ key: { id: string }; secret: string }>();
    const program = (method: 'GET' | 'POST', url: string, token = secret) =>
      test.server.inject({ method, url, headers: { authorization: `Bearer ${token}` } });
    expect((await program('GET', '/metrics')).body).toContain('waxwarden_build_info{version="0.0.0-test"} 1');
    expect((await program('GET', '/api/people')).statusCode).toBe(403);
    expect((await program('POST', '/api/patterns')).statusCode).toBe(403);
    expect((await program('GET', '/api/stations', `${secret}x`)).statusCode).toBe(401);
    expect((await manager.send('GET', '/api/tokens')).body).not.toContain(secret);
    await manager.send('DELETE', `/api/tokens/${key.id}`);
    expect((await program('GET', '/api/stations')).statusCode).toBe(401);
  });

  it('lets no token make people or further tokens, not even that of a manager', async () => {
    const manager = await test.manager();
    const { secret } = (await manager.send('POST', '/api/tokens', { name: 'Set-up', role: 'manager' })).json<{
      secret: string;
    }>();
    const headers = { authorization: `Bearer ${secret}` };
    const tokens = await test.server.inject({
      method: 'POST',
      url: '/api/tokens',
      headers,
      payload: { name: 'x', role: 'manager' },
    });
    expect(tokens.statusCode).toBe(403);
    expect((await test.server.inject({ method: 'GET', url: '/api/lab-file', headers })).statusCode).toBe(200);
  });

  it('opens the wall by its link for as long as nobody takes it back, and nothing else', async () => {
    const manager = await test.manager();
    const made = (await manager.send('POST', '/api/wall-links', { name: 'Bench room' })).json<{
      path: string;
      key: { id: string };
    }>();
    const wall = test.browser();
    const opened = await wall.send('GET', made.path);
    expect(opened.statusCode).toBe(303);
    expect(opened.headers.location).toBe('/wall');
    expect(wall.cookie).toContain('waxwarden-wall=');
    test.lab.pass(100 * 86_400);
    for (const url of ['/api/stations', '/api/alarms', '/api/readings?probe=pot-1-a'])
      expect((await wall.send('GET', url)).statusCode).toBe(200);
    for (const url of ['/api/people', '/api/patterns', '/api/lab', '/api/audit', '/metrics'])
      expect((await wall.send('GET', url)).statusCode).toBe(403);
    await manager.send('POST', '/api/session', { name: 'Mara', password: PASSWORDS.manager });
    await manager.send('DELETE', `/api/wall-links/${made.key.id}`);
    expect((await wall.send('GET', '/api/stations')).statusCode).toBe(401);
  });

  it('keeps wall links, tokens and sessions over a restart of the program', async () => {
    const manager = await test.manager();
    const link = (await manager.send('POST', '/api/wall-links', { name: 'Bench room' })).json<{
      path: string;
    }>();
    const wall = test.browser();
    await wall.send('GET', link.path);
    await test.server.close();
    const { running, database } = test.lab;
    const options = { webRoot: null, database, loopback: true };
    const restarted = buildServer(running, {
      ...options,
      alarmWords: (alarm) => ({ message: alarm.rule, meaning: '', action: '', caution: '' }),
    });
    const get = async (url: string, cookie: string) =>
      (await restarted.inject({ method: 'GET', url, headers: { cookie } })).statusCode;
    expect(await get('/api/stations', wall.cookie)).toBe(200);
    expect(await get('/api/audit', manager.cookie)).toBe(200);
    expect(await get('/api/audit', wall.cookie)).toBe(403);
    await restarted.close();
  });

  it.each(['', 'x', 'wws_forged', '__proto__'])(
    'sends a screen with the forged key "%s" to sign-in',
    async (key) => {
      const answer = await test.browser().send('GET', `/wall?key=${key}`);
      expect(answer.headers.location).toBe('/sign-in?because=wall-link-unknown');
      expect(answer.cookies).toEqual([]);
    },
  );

  it('keeps no secret in the database as it is', async () => {
    const manager = await test.manager();
    const { secret } = (await manager.send('POST', '/api/tokens', { name: 'Graphs', role: 'viewer' })).json<{
      secret: string;
    }>();
    const session = manager.cookie.split('=')[1] ?? '';
    const { writer } = test.lab.database;
    const tables = writer
      .prepare<[], string>("SELECT name FROM sqlite_master WHERE type = 'table'")
      .pluck()
      .all();
    const everything = JSON.stringify(tables.map((table) => writer.prepare(`SELECT * FROM ${table}`).all()));
    expect(session.length).toBeGreaterThan(40);
    for (const hidden of [secret, session, PASSWORDS.manager]) expect(everything).not.toContain(hidden);
  });
});

describe('the demonstration', () => {
  it('lets a visitor of loopback read and do a technician’s acts, and no set-up', async () => {
    const test = await serverForTests({ demo: true });
    const visitor = test.browser();
    expect((await visitor.send('GET', '/api/session')).json()).toMatchObject({
      standpoint: 'demo-visitor',
      signedIn: false,
    });
    expect((await visitor.send('GET', '/api/quarantine')).statusCode).toBe(200);
    expect((await visitor.send('POST', '/api/stations/pot-1/cleaned')).statusCode).toBe(200);
    expect((await visitor.send('DELETE', '/api/stations/pot-1')).statusCode).toBe(403);
    expect(
      (await visitor.send('GET', '/api/stations', undefined, { 'x-forwarded-for': '9.9.9.9' })).statusCode,
    ).toBe(401);
    await test.close();
  });

  it('demands a sign-in as soon as it listens beyond loopback', async () => {
    const test = await serverForTests({ demo: true, loopback: false });
    expect((await test.browser().send('GET', '/api/stations')).statusCode).toBe(401);
    await test.close();
  });
});
