import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Browser, ServerForTests } from '../../../../tests/server-for-tests.ts';
import { serverForTests } from '../../../../tests/server-for-tests.ts';

const MAIL = {
  host: 'mail.lab.example',
  port: 587,
  security: 'starttls',
  user: 'waxlab',
  from: 'alarms@lab.example',
};
const SECRET = 'a secret of the mail server';

describe('the mail server over the wire', () => {
  let test: ServerForTests;
  let manager: Browser;
  beforeEach(async () => {
    test = await serverForTests({ mailAtStart: 'old.example:25' });
    manager = await test.manager();
  });
  afterEach(() => test.close());
  const put = (body: object) => manager.send('PUT', '/api/connections/mail', body);
  const stored = () => test.lab.running.connections.setting().mail;

  it('is the one of the start until a manager sets another, and again once that is removed', async () => {
    expect((await manager.send('GET', '/api/connections')).json()).toMatchObject({
      mail: null,
      mailAtStart: 'old.example:25',
    });
    expect((await put(MAIL)).json()).toMatchObject({ mail: { ...MAIL, hasPassword: false } });
    expect((await manager.send('DELETE', '/api/connections/mail')).json()).toMatchObject({ mail: null });
    expect(stored()).toBeNull();
  });

  it('holds at once: notices go by e-mail from then on', async () => {
    expect(test.lab.running.notices.mailIsSetUp()).toBe(false);
    await put(MAIL);
    expect(test.lab.running.notices.mailIsSetUp()).toBe(true);
  });

  it('takes a password and shows it neither in an answer nor in the audit trail', async () => {
    const answer = await put({ ...MAIL, password: SECRET });
    const again = await manager.send('GET', '/api/connections');
    const audit = await manager.send('GET', '/api/audit?limit=20');
    expect(again.json()).toMatchObject({ mail: { hasPassword: true } });
    expect(audit.body).toContain('mail-server-changed');
    expect(answer.body + again.body + audit.body).not.toContain(SECRET);
    expect(stored()?.password).toBe(SECRET);
  });

  it.each([
    ['stays where only the sender changes', { from: 'wax@lab.example' }, SECRET],
    ['goes to no other server', { host: 'elsewhere.example' }, ''],
    ['goes to no other port', { port: 25 }, ''],
    ['goes over no weaker connection', { security: 'none' }, ''],
    ['goes to no other user', { user: 'somebody' }, ''],
  ])('a stored password %s', async (_, change, password) => {
    await put({ ...MAIL, password: SECRET });
    await put({ ...MAIL, ...change });
    expect(stored()?.password).toBe(password);
  });

  it.each([
    ['a server with a port in its name', { host: 'mail.lab.example:587' }, '/body/host'],
    ['a port that there is not', { port: 65_536 }, '/body/port'],
    ['a sender with a line break', { from: 'a@lab.example\r\nBcc: b@else.example' }, '/body/from'],
  ])('refuses %s and leaves everything as it was', async (_, wrong, pointer) => {
    const answer = await put({ ...MAIL, ...wrong });
    expect(answer.statusCode).toBe(400);
    expect(answer.json()).toMatchObject({ errors: [{ pointer }] });
    expect(stored()).toBeNull();
  });

  it('is the matter of managers', async () => {
    const technician = await test.person(manager, 'technician', 'Tom');
    for (const [method, url] of [
      ['GET', '/api/connections'],
      ['PUT', '/api/connections/mail'],
      ['DELETE', '/api/connections/mail'],
    ] as const)
      expect((await technician.send(method, url, method === 'PUT' ? MAIL : undefined)).statusCode).toBe(403);
  });
});

describe('names in the network', () => {
  let test: ServerForTests;
  let manager: Browser;
  const asks = (host: string) => test.browser().send('GET', '/api/health', undefined, { host });
  const put = (hostNames: readonly string[]) =>
    manager.send('PUT', '/api/connections/host-names', { hostNames });
  afterEach(() => test.close());

  it('are answered to as soon as they are set, and no longer once they are taken back', async () => {
    test = await serverForTests({ loopback: false });
    manager = await test.manager();
    expect((await asks('wax.lab.example')).statusCode).toBe(421);
    await put(['Wax.Lab.example', 'wax.lab.example']);
    expect((await asks('wax.lab.example')).statusCode).toBe(200);
    const health = await manager.send('GET', '/api/health');
    expect(health.json()).toMatchObject({ reachedAt: expect.stringContaining('wax.lab.example') });
    await put([]);
    expect((await asks('wax.lab.example')).statusCode).toBe(421);
  });

  it('that the lab’s own authority may not vouch for are refused by name', async () => {
    test = await serverForTests({ authority: { vouchedFor: () => ({ dns: [], addresses: [] }) } as never });
    manager = await test.manager();
    const answer = await put(['wax.other.example']);
    expect(answer.json()).toMatchObject({
      errors: [{ pointer: '/body/hostNames/0', code: 'field-name-not-vouched' }],
    });
  });
});
