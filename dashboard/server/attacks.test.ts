import { connect } from 'node:net';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import {
  type Browser,
  PASSWORDS,
  type ServerForTests,
  serverForTests,
} from '../../tests/server-for-tests.ts';
import { ALL_PERMISSIONS, mayDo } from './sign-in/permissions.ts';

interface Operation {
  readonly security?: readonly unknown[];
  readonly description?: string;
}
/** Every operation of the interface's own description, with the permission that it names. */
const operations = (test: ServerForTests) =>
  Object.entries(test.server.swagger().paths ?? {}).flatMap(([path, methods]) =>
    Object.entries(methods ?? {}).map(([method, operation]) => ({
      method: method.toUpperCase() as 'GET' | 'POST' | 'PUT' | 'DELETE',
      url: path.replace('{id}', 'pot-1'),
      needs: /Needs `([^`]+)`/.exec((operation as Operation).description ?? '')?.[1] ?? '',
    })),
  );

describe('attacks on the server', () => {
  let test: ServerForTests;
  afterEach(() => test.close());

  it('refuses a viewer at every write of the interface, and a technician at every write of set-up and people', async () => {
    test = await serverForTests();
    const manager = await test.manager();
    const people: readonly (readonly ['viewer' | 'technician', Browser])[] = [
      ['viewer', await test.person(manager, 'viewer', 'Vera')],
      ['technician', await test.person(manager, 'technician', 'Tom')],
    ];
    const writes = operations(test).filter((route) => route.method !== 'GET');
    expect(writes.length).toBeGreaterThan(30);
    const state = () => JSON.stringify([test.lab.running.lab(), test.lab.acts]);
    const before = state();
    for (const [role, browser] of people)
      for (const { method, url, needs } of writes) {
        const permission = ALL_PERMISSIONS.find((listed) => listed === needs);
        if (permission === undefined || mayDo(role, permission)) continue;
        const answer = await browser.send(method, url, {});
        expect([role, method, url, answer.statusCode, answer.json().code]).toEqual([
          role,
          method,
          url,
          403,
          'not-allowed',
        ]);
      }
    expect(state()).toBe(before);
  });

  it('answers nobody anything but health, sign-in, the description and, with its key, the calendar feed', async () => {
    test = await serverForTests();
    const open = operations(test).filter((route) => route.needs === 'nothing');
    expect(open.map(({ method, url }) => `${method} ${url}`).sort()).toEqual([
      'DELETE /api/session',
      'GET /api/calendar.ics',
      'GET /api/health',
      'GET /api/session',
      'POST /api/acknowledge-by-link',
      'POST /api/join',
      'POST /api/pair',
      'POST /api/session',
    ]);
    for (const { method, url } of operations(test).filter((route) => route.needs !== 'nothing')) {
      const answer = await test.browser().send(method, url, method === 'GET' ? undefined : {});
      expect([method, url, answer.statusCode]).toEqual([method, url, 401]);
    }
  });

  it.each([
    ['another origin', { origin: 'https://evil.example' }],
    ['the null origin of a sandbox', { origin: 'null' }],
    ['another port of this machine', { origin: 'http://localhost:9999' }],
    ['a foreign page without an origin', { 'sec-fetch-site': 'cross-site' }],
    ['a neighbouring site', { 'sec-fetch-site': 'same-site' }],
  ])('refuses a change that %s makes with a stolen cookie', async (_who, headers) => {
    test = await serverForTests();
    const manager = await test.manager();
    const { id } = test.lab.raise('over-ceiling', 'pot-1');
    const answer = await manager.send('POST', `/api/alarms/${id}/acknowledge`, undefined, headers);
    expect(answer.json()).toMatchObject({ status: 403, code: 'foreign-origin' });
    expect(test.lab.running.alarm(id)?.acknowledged).toBe(false);
    expect(answer.headers).not.toHaveProperty('access-control-allow-origin');
  });

  it('has no link that acknowledges: a forged address and a plain form change nothing', async () => {
    test = await serverForTests();
    const manager = await test.manager();
    const { id } = test.lab.raise('over-ceiling', 'pot-1');
    expect((await manager.send('GET', `/api/alarms/${id}/acknowledge`)).statusCode).toBe(404);
    for (const type of [
      'application/x-www-form-urlencoded',
      'text/plain',
      'multipart/form-data; boundary=x',
    ]) {
      const answer = await test.server.inject({
        method: 'POST',
        url: `/api/alarms/${id}/acknowledge`,
        headers: { cookie: manager.cookie, 'content-type': type },
        payload: 'reason=x',
      });
      expect(answer.json()).toMatchObject({ status: 415, code: 'wrong-media-type' });
    }
    expect(test.lab.running.alarm(id)?.acknowledged).toBe(false);
  });

  it.each(['evil.example', 'evil.example:8080', '127.0.0.1.evil.example', 'localhost.evil.example'])(
    'refuses the name %s that was pointed at this machine, even in the demonstration',
    async (host) => {
      test = await serverForTests({ demo: true });
      const answer = await test.server.inject({ method: 'GET', url: '/api/stations', headers: { host } });
      expect(answer.json()).toMatchObject({ status: 421, code: 'foreign-host' });
    },
  );

  it.each([
    ['wax-pc', 200],
    ['WAX-PC.local:8460', 200],
    ['192.168.1.20:8460', 200],
    ['[fd00::20]:8460', 200],
    ['127.0.0.1:8460', 200],
    ['wax.lab.example', 200],
    ['evil.example', 421],
    ['192.168.1.20.evil.example', 421],
    ['wax-pc.evil.example', 421],
  ])('answers to %s with %d on the network, with and without names of its own', async (host, status) => {
    for (const hostNames of host === 'wax.lab.example' ? [['wax.lab.example']] : [[], ['wax.lab.example']]) {
      test = await serverForTests({ loopback: false, machineNames: ['wax-pc', 'wax-pc.local'], hostNames });
      const answer = await test.server.inject({ method: 'GET', url: '/api/health', headers: { host } });
      expect([hostNames, answer.statusCode]).toEqual([hostNames, status]);
      if (hostNames.length === 0) await test.close();
    }
  });

  it.each(['localhost', '127.0.0.1:8080', '[::1]:8080', 'wax.lab.example'])(
    'goes by the name %s',
    async (host) => {
      test = await serverForTests({ demo: true, hostNames: ['wax.lab.example'] });
      expect(
        (await test.server.inject({ method: 'GET', url: '/api/stations', headers: { host } })).statusCode,
      ).toBe(200);
    },
  );

  it('serves nothing outside the folder of the screens', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'waxwarden-web-'));
    mkdirSync(join(folder, 'web', 'assets'), { recursive: true });
    writeFileSync(join(folder, 'secret.txt'), 'the secret');
    writeFileSync(join(folder, 'web', 'index.html'), '<!doctype html><title>screens</title>');
    writeFileSync(join(folder, 'web', 'assets', 'app-1a2b.js'), '//');
    test = await serverForTests({ webRoot: join(folder, 'web') });
    for (const url of [
      '/../secret.txt',
      '/%2e%2e/secret.txt',
      '/..%2fsecret.txt',
      '/assets/../../secret.txt',
      '/assets/..%5c..%5csecret.txt',
      '/%00/secret.txt',
      '//secret.txt',
      '/assets/....//secret.txt',
    ]) {
      const answer = await test.server.inject({ method: 'GET', url });
      expect(answer.body).not.toContain('the secret');
      expect([400, 403, 404]).toContain(answer.statusCode);
    }
    const html = { accept: 'text/html' };
    for (const url of ['/', '/wall', '/station/pot-1', '/sign-in']) {
      const answer = await test.server.inject({ method: 'GET', url, headers: html });
      expect([answer.statusCode, answer.body.includes('screens'), answer.headers['cache-control']]).toEqual([
        200,
        true,
        'no-cache',
      ]);
    }
    const asset = await test.server.inject({ method: 'GET', url: '/assets/app-1a2b.js' });
    expect(asset.headers['cache-control']).toBe('public, max-age=31536000, immutable');
    for (const url of ['/api/nothing', '/assets/gone.js', '/nothing.png'])
      expect((await test.server.inject({ method: 'GET', url, headers: html })).statusCode).toBe(404);
    rmSync(folder, { recursive: true });
  });

  it('refuses huge, deep and broken bodies as problems and keeps serving', async () => {
    test = await serverForTests({ demo: true });
    const { id } = test.lab.raise('over-ceiling', 'pot-1');
    const post = (payload: string | Buffer) =>
      test.server.inject({
        method: 'POST',
        url: `/api/alarms/${id}/note`,
        headers: { 'content-type': 'application/json' },
        payload,
      });
    const cases: readonly (readonly [string | Buffer, number, string])[] = [
      [JSON.stringify({ text: 'x'.repeat(1_000_000) }), 413, 'body-too-large'],
      [JSON.stringify({ text: 'x'.repeat(3000) }), 400, 'wrong-request'],
      [`${'['.repeat(30_000)}${']'.repeat(30_000)}`, 400, 'wrong-request'],
      ['{"text":', 400, 'malformed-json'],
      ['{"text":"a","__proto__":{"isAdmin":true}}', 400, 'wrong-request'],
      ['null', 400, 'wrong-request'],
      [Buffer.from('{"text":"Gerät"}', 'latin1'), 400, 'malformed-json'],
      [Buffer.from('{"text":"Gerät"}', 'utf16le'), 400, 'malformed-json'],
    ];
    for (const [payload, status, code] of cases) {
      const answer = await post(payload);
      expect(answer.headers['content-type']).toContain('application/problem+json');
      expect(answer.json()).toMatchObject({ status, code });
    }
    expect((await post('\uFEFF{"text":"still here"}')).statusCode).toBe(200);
  });

  it.each([
    'a@lab.example,b@evil.example',
    'lab:b@evil.example;',
    'b@evil.example(a@lab.example)',
    '<b@evil.example>',
    'a@lab.example\r\nBcc:b@evil.example',
  ])('takes no list, group or remark for a mail address, as of %s', async (email) => {
    test = await serverForTests();
    const manager = await test.manager();
    const preferences = {
      ...{ language: 'en', temperatureUnit: 'celsius', hourCycle: 'h23' },
      ...{ namesOnLockScreen: false, morningHeartbeat: false },
    };
    const mail = { host: 'mail.lab.example', port: 587, security: 'starttls', user: '', from: email };
    for (const [url, body, pointer] of [
      ['/api/account', { ...preferences, email }, '/body/email'],
      ['/api/connections/mail', mail, '/body/from'],
    ] as const)
      expect((await manager.send('PUT', url, body)).json()).toMatchObject({ errors: [{ pointer }] });
    const plain = { ...preferences, email: "o'neil+wax@lab.example" };
    expect((await manager.send('PUT', '/api/account', plain)).statusCode).toBe(200);
  });

  it.each([
    ['a control character', 'Pot\u0000one'],
    ['an end of line', 'Pot\r\nBcc: thief@evil.example'],
    ['a mark that reverses the direction', 'Pot \u202Eeno'],
    ['a blank without width', 'Ma\u200Bra'],
    ['half of a surrogate pair', 'Pot \uD800'],
    ['a letter without ink', '\u3164'],
    ['a blank pattern of braille', '\u2800'],
  ])('refuses %s in the name of a person, a token and a station, and in a lab file', async (_what, name) => {
    test = await serverForTests();
    const manager = await test.manager();
    const before = JSON.stringify(test.lab.running.lab());
    const { kind, wax } = test.lab.running.lab().stations[0] ?? {};
    for (const [method, url, body] of [
      ['POST', '/api/people', { name, role: 'viewer' }],
      ['POST', '/api/tokens', { name, role: 'viewer' }],
      ['PUT', '/api/stations/pot-1', { name, kind, wax }],
      ['PUT', '/api/lab-file', { yaml: `site: { id: lab, name: ${JSON.stringify(name)}, time_zone: UTC }` }],
    ] as const)
      expect([url, (await manager.send(method, url, body)).statusCode]).toEqual([url, 400]);
    expect(JSON.stringify(test.lab.running.lab())).toBe(before);
  });

  it.each(['\u00AD', '\uFE0F\uFE0F', '\u200D'])(
    'takes no name of signs alone that show nothing: %j',
    async (name) => {
      test = await serverForTests();
      const manager = await test.manager();
      for (const url of ['/api/people', '/api/tokens'])
        expect((await manager.send('POST', url, { name, role: 'viewer' })).statusCode).toBe(400);
    },
  );

  it('takes no second person whose name differs by a sign that shows nothing', async () => {
    test = await serverForTests();
    const manager = await test.manager();
    await test.person(manager, 'viewer', 'Vera');
    const answer = await manager.send('POST', '/api/people', { name: 'Ve\u200Dra', role: 'viewer' });
    expect(answer.json()).toMatchObject({ status: 409, code: 'name-taken' });
  });

  it('takes a password with any sign, and joiners and direction marks in names', async () => {
    test = await serverForTests();
    const manager = await test.manager();
    for (const name of ['می\u200Cخواهم', '\u200Fרות', 'क्\u200Dष'])
      expect((await manager.send('POST', '/api/people', { name, role: 'viewer' })).statusCode).toBe(200);
    const answer = await manager.send('PUT', '/api/account/password', {
      password: PASSWORDS.manager,
      newPassword: 'seven\u202Ewarm sticks\u0007of wax',
    });
    expect(answer.statusCode).toBe(200);
  });

  it('closes a connection that never finishes its request', async () => {
    test = await serverForTests({ requestSeconds: 1 });
    const port = Number(new URL(await test.server.listen({ host: '127.0.0.1', port: 0 })).port);
    const answer = await new Promise<string>((resolve) => {
      let text = '';
      const socket = connect(port, '127.0.0.1', () =>
        socket.write('POST /api/session HTTP/1.1\r\nhost: localhost\r\nx-a'),
      );
      socket.on('data', (chunk) => {
        text += chunk.toString();
      });
      socket.on('close', () => resolve(text));
    });
    expect(answer).toContain('408');
  });

  it('closes a connection on which nothing comes, and keeps a screen that only listens', async () => {
    test = await serverForTests({ demo: true, requestSeconds: 0.5 });
    const port = Number(new URL(await test.server.listen({ host: '127.0.0.1', port: 0 })).port);
    const screen = connect(port, '127.0.0.1');
    let beats = 0;
    screen.on('data', (chunk) => {
      beats += chunk.toString().split('event: beat').length - 1;
    });
    screen.write('GET /api/live HTTP/1.1\r\nhost: localhost\r\n\r\n');
    const silent = connect(port, '127.0.0.1').resume();
    await new Promise((resolve) => silent.once('close', resolve));
    const before = beats;
    await new Promise<void>((resolve) => {
      screen.on('data', () => {
        if (beats >= before + 2) resolve();
      });
    });
    expect(screen.destroyed).toBe(false);
    screen.destroy();
  });

  it('ends a connection that sends many requests ahead and reads no answer, and answers a few sent ahead', async () => {
    test = await serverForTests();
    const port = Number(new URL(await test.server.listen({ host: '127.0.0.1', port: 0 })).port);
    const request = 'GET /api/openapi.json HTTP/1.1\r\nhost: localhost\r\n\r\n';
    const { byteLength: size } = Buffer.from(
      await (await fetch(`http://127.0.0.1:${port}/api/openapi.json`)).text(),
    );
    const before = process.memoryUsage().rss;
    const greedy = connect(port, '127.0.0.1').pause();
    greedy.on('error', () => {});
    const ended = new Promise((resolve) => greedy.once('close', resolve));
    greedy.write(request.repeat(1000));
    greedy.resume();
    await ended;
    expect(process.memoryUsage().rss - before).toBeLessThan(300 * size);

    const patient = connect(port, '127.0.0.1');
    let text = '';
    patient.on('data', (chunk) => (text += chunk));
    patient.write('GET /api/health HTTP/1.1\r\nhost: localhost\r\n\r\n'.repeat(5));
    await expect.poll(() => text.split('HTTP/1.1 200').length - 1).toBe(5);
    patient.destroy();
  });

  it('writes nothing personal into the log', async () => {
    const lines: string[] = [];
    test = await serverForTests({ log: { level: 'trace', stream: { write: (line) => lines.push(line) } } });
    const manager = await test.manager();
    await test.person(manager, 'technician', 'Zacharias');
    const { secret } = (await manager.send('POST', '/api/tokens', { name: 'Graphs', role: 'viewer' })).json<{
      secret: string;
    }>();
    const link = (await manager.send('POST', '/api/wall-links', { name: 'Wall' })).json<{ path: string }>()
      .path;
    await test.browser().send('GET', link);
    await test.browser().send('POST', '/api/session', { name: 'Zacharias', password: 'my wrong password' });
    await manager.send('PUT', '/api/people/zacharias', { name: 'Zacharias', role: 'owner' });
    await manager.send('DELETE', '/api/people/zacharias');
    await test.server.inject({
      method: 'GET',
      url: '/api/stations',
      headers: { authorization: `Bearer ${secret}` },
    });
    const log = lines.join('');
    expect(lines.length).toBeGreaterThan(10);
    const session = manager.cookie.split('=')[1] ?? manager.cookie;
    for (const personal of [
      'acharias',
      'Mara',
      '127.0.0.1',
      'wrong password',
      PASSWORDS.manager,
      session,
      secret,
      link.split('=')[1] ?? link,
    ])
      expect(log).not.toContain(personal);
  });
});

describe('HTTPS and proxies', () => {
  it('makes browsers insist on HTTPS only under a certificate that they trust anyway', async () => {
    for (const insistOnHttps of [true, false]) {
      const test = await serverForTests({ insistOnHttps });
      const { headers } = await test.browser().send('GET', '/api/health');
      expect(headers['strict-transport-security']).toBe(insistOnHttps ? 'max-age=15552000' : undefined);
      await test.close();
    }
  });

  it.each([
    ['10.0.0.5', true],
    ['10.0.0.6', false],
  ])('takes the word of the named proxy alone: from %s it is %s', async (remoteAddress, isTaken) => {
    const test = await serverForTests({
      loopback: false,
      trustedProxies: ['10.0.0.5'],
      hostNames: ['wax.example'],
    });
    const { statusCode } = await test.server.inject({
      url: '/api/health',
      remoteAddress,
      headers: { host: 'inside', 'x-forwarded-host': 'wax.example', 'x-forwarded-proto': 'https' },
    });
    expect(statusCode).toBe(isTaken ? 200 : 421);
    await test.close();
  });
});
