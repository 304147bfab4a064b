import { afterEach, describe, expect, it } from 'vitest';
import { type ServerForTests, serverForTests } from '../../../../tests/server-for-tests.ts';

const DANA = { id: 'dana', name: 'Dana', role: 'manager', language: 'en' } as const;

describe('signing in as a person of the demonstration', () => {
  let test: ServerForTests;
  afterEach(() => test.close());

  const start = async (options: Parameters<typeof serverForTests>[0]): Promise<void> => {
    test = await serverForTests(options);
    test.lab.running.repository.savePerson({
      ...DANA,
      temperatureUnit: 'celsius',
      hourCycle: 'h23',
      email: null,
      namesOnLockScreen: false,
      morningHeartbeat: false,
    });
  };
  const signIn = (headers: Record<string, string> = {}, person = 'dana') =>
    test.browser().send('POST', '/api/session/demo', { person }, headers);

  it('takes one tap on its own machine, and lets a manager set up without a password', async () => {
    await start({ demo: true });
    const browser = test.browser();
    expect((await browser.send('GET', '/api/session')).json().demoPeople).toEqual([
      { id: 'dana', name: 'Dana', role: 'manager' },
    ]);
    const answer = await browser.send('POST', '/api/session/demo', { person: 'dana' });
    expect(answer.json()).toMatchObject({ signedIn: true, name: 'Dana', standpoint: 'manager' });
    // Longer ago than a typed password vouches for set-up.
    test.lab.pass(3600);
    const added = await browser.send('POST', '/api/people', { name: 'Tom', role: 'technician' });
    expect(added.statusCode).toBeLessThan(300);
  });

  it.each([
    ['who comes by a proxy', { 'x-forwarded-for': '192.0.2.7' }, 'dana'],
    ['as somebody who is nobody of the lab', {}, 'eve'],
  ])('is refused to a visitor %s', async (_, headers, person) => {
    await start({ demo: true });
    expect((await signIn(headers, person)).statusCode).toBe(401);
  });

  it('is refused where the demonstration can be reached from the network', async () => {
    await start({ demo: true, loopback: false });
    const answer = await signIn();
    expect(answer.statusCode).toBeGreaterThanOrEqual(400);
    expect(answer.cookies).toEqual([]);
  });

  it('does not exist outside the demonstration', async () => {
    await start({ demo: false });
    expect((await signIn()).statusCode).toBe(404);
    expect((await test.browser().send('GET', '/api/session')).json().demoPeople).toBeUndefined();
  });
});
