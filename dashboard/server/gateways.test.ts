import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type Browser, type ServerForTests, serverForTests } from '../../tests/server-for-tests.ts';

let test: ServerForTests;
let manager: Browser;
beforeEach(async () => {
  test = await serverForTests();
  manager = await test.manager();
});
afterEach(() => test.close());

const codeFor = async (gateway: string): Promise<string> =>
  (await manager.send('POST', '/api/gateways', { gateway })).json().code;
const pair = (code: string) => test.browser().send('POST', '/api/pair', { code });

describe('the list of gateways', () => {
  it('has the sweeps that are missing, how far the clock is off, and the probes that wait for a station', async () => {
    const reportedAt = test.lab.running.now();
    test.lab.gateway({
      gateway: 'gw-1',
      online: false,
      reportedAt,
      clockLagMillis: -3_600_000,
      sweeps: { newest: 900, missing: 12 },
    });
    await test.lab.measure('new-one', 20);
    expect((await manager.send('GET', '/api/gateways')).json()).toEqual([
      {
        gateway: 'gw-1',
        pairedAt: null,
        online: false,
        reportedAt: '2031-03-03T08:00:00.000Z',
        lastReadingAt: '2031-03-03T08:00:00.000Z',
        probes: 2,
        unclaimed: 1,
        clockLag_seconds: -3600,
        sweeps: { newest: 900, missing: 12 },
      },
    ]);
  });
});

describe('pairing a gateway', () => {
  it('takes one code, that serves once, and gives the gateway a user and a password of its own', async () => {
    const code = await codeFor('bench-1');
    const answer = await pair(code.toLowerCase());
    expect(answer.json()).toMatchObject({
      site: 'test-lab',
      gateway: 'bench-1',
      user: 'bench-1',
      port: 1883,
      topic: 'wax/test-lab/bench-1/',
      password: expect.stringMatching(/^[\w-]{43}$/),
    });
    expect((await pair(code)).json()).toMatchObject({ status: 403, code: 'wrong-code' });
    expect((await manager.send('GET', '/api/gateways')).json()).toMatchObject([
      { gateway: 'bench-1', pairedAt: '2031-03-03T08:00:00.000Z', probes: 0 },
      { gateway: 'gw-1', pairedAt: null, probes: 1, unclaimed: 0 },
    ]);
    const audit = (await manager.send('GET', '/api/audit')).json<readonly { readonly actor: string }[]>();
    expect(audit.map(({ actor }) => actor)).toContain('bench-1 (MQTT)');
  });

  it('keeps no password as it is, and shows none again', async () => {
    const { password } = (await pair(await codeFor('bench-1'))).json();
    const stored = JSON.stringify(test.lab.database.writer.prepare('SELECT * FROM gateway_account').all());
    expect(stored).not.toContain(password);
    expect((await manager.send('GET', '/api/gateways')).body).not.toMatch(/hash|password/i);
  });

  it('is over an hour after the code was made, and by a newer code', async () => {
    const first = await codeFor('bench-1');
    const second = await codeFor('bench-1');
    expect((await pair(first)).statusCode).toBe(403);
    test.lab.pass(3601);
    expect((await pair(second)).statusCode).toBe(403);
  });

  it('by a code that was made while the clock ran ahead is over once the clock is set back, but for a small step', async () => {
    const [first, second] = [await codeFor('bench-1'), await codeFor('bench-2')];
    test.lab.pass(-30 * 60);
    expect((await pair(first)).statusCode).toBe(200);
    test.lab.pass(-365 * 86_400);
    expect((await pair(second)).json()).toMatchObject({ status: 403, code: 'wrong-code' });
  });

  it('is taken back by a manager, and given again with another password', async () => {
    const before = (await pair(await codeFor('bench-1'))).json().password;
    expect((await manager.send('DELETE', '/api/gateways/bench-1')).statusCode).toBe(200);
    expect((await manager.send('DELETE', '/api/gateways/bench-1')).json()).toMatchObject({
      code: 'unknown-gateway',
    });
    expect((await pair(await codeFor('bench-1'))).json().password).not.toBe(before);
  });

  it.each([
    ['station', 'gateway-id-reserved'],
    ['change', 'gateway-id-reserved'],
    ['bench 1', 'gateway-id-refused'],
    ['a/b', 'gateway-id-refused'],
  ])('refuses the id %s with %s', async (gateway, code) => {
    const answer = await manager.send('POST', '/api/gateways', { gateway });
    expect(answer.json()).toMatchObject({ status: 400, errors: [{ pointer: '/body/gateway', code }] });
  });

  it('slows guesses of the code', async () => {
    const statuses: number[] = [];
    for (let tries = 0; tries < 6; tries += 1) statuses.push((await pair('AAAAA-AAAAA')).statusCode);
    expect(statuses.at(-1)).toBe(429);
  });
});
