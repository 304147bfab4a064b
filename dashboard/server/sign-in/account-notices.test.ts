// A person is notified of what was done with their account, on each of their phones and by e-mail.
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { noticeText } from '../../../alerts/notices/texts/notice-text.ts';
import {
  type Browser,
  PASSWORDS,
  type ServerForTests,
  serverForTests,
} from '../../../tests/server-for-tests.ts';

const PHONE = {
  endpoint: 'https://fcm.googleapis.com/fcm/send/one',
  keys: { p256dh: 'B'.repeat(87), auth: 'a'.repeat(22) },
  name: 'Blue phone',
};

describe('the person whose account it is', () => {
  let test: ServerForTests;
  let mara: Browser;
  beforeEach(async () => {
    test = await serverForTests();
    mara = await test.manager();
    await mara.send('POST', '/api/push/subscriptions', PHONE);
  });
  afterEach(() => test.close());

  const signInFrom = async (remoteAddress: string, password: string = PASSWORDS.manager): Promise<number> => {
    const answer = await test.server.inject({
      method: 'POST',
      url: '/api/session',
      remoteAddress,
      headers: { host: 'localhost:8080', origin: 'http://localhost:8080' },
      payload: { name: 'Mara', password },
    });
    return answer.statusCode;
  };
  const notices = () => test.lab.running.notices.outbox.newest(50).filter(({ kind }) => kind === 'account');
  const words = (language: string): string => {
    const [row] = notices();
    const [person] = test.lab.running.lab().people;
    if (row === undefined || person === undefined) throw new Error('nobody was notified');
    const { title, text } = noticeText(
      { rows: [row], rest: [] },
      test.lab.running.lab(),
      { ...person, language },
      0,
    );
    return `${title}. ${text}`;
  };

  it('is notified of a sign-in from a new place with what to do, once, and of none from where they signed in before', async () => {
    expect(await signInFrom('127.0.0.1')).toBe(200);
    expect(notices()).toEqual([]);
    expect(await signInFrom('192.0.2.44')).toBe(200);
    expect(await signInFrom('192.0.2.44')).toBe(200);
    const [person] = test.lab.running.lab().people;
    expect(notices()).toMatchObject([{ channel: 'push', person: person?.id }]);
    expect(words('en')).toMatch(/new place.*as Mara from 192\.0\.2\.44.*change your password/);
    expect(words('de')).toMatch(/neuen Ort.*Mara.*192\.0\.2\.44.*Passwort/);
  });

  it('is notified of no sign-in that was refused', async () => {
    expect(await signInFrom('192.0.2.44', 'not the password of Mara')).toBe(401);
    expect(notices()).toEqual([]);
  });

  it('is notified of a new password', async () => {
    const change = { password: PASSWORDS.manager, newPassword: 'nine green candles at dawn' };
    expect((await mara.send('PUT', '/api/account/password', change)).statusCode).toBe(200);
    expect(notices()).toHaveLength(1);
    expect(words('en')).toContain('Your password was changed');
  });
});
