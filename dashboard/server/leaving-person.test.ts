import { expect, it } from 'vitest';
import { PASSWORDS, serverForTests } from '../../tests/server-for-tests.ts';

it('A later person of the same name inherits neither phones nor turns, absences, mail or a session of who left', async () => {
  const test = await serverForTests();
  const manager = await test.manager();
  const tom = await test.person(manager, 'technician', 'Tom');
  const phone = {
    endpoint: 'https://fcm.googleapis.com/fcm/send/one',
    keys: { p256dh: 'B'.repeat(87), auth: 'a'.repeat(22) },
    name: 'Blue phone',
  };
  expect((await tom.send('POST', '/api/push/subscriptions', phone)).statusCode).toBe(200);
  const plan = {
    rota: { people: ['tom', 'mara'], startsOn: '2031-03-03', handoverTime: '08:00' },
    absences: [{ person: 'tom', from: '2031-03-04', to: '2031-03-05' }],
    escalation: [{ afterMinutes: 0, who: 'on-duty' }],
    outsideHours: ['urgent', 'high'],
    heartbeatAt: null,
    webhooks: [],
    lampTopics: [],
  };
  expect((await manager.send('PUT', '/api/notification-plan', plan)).statusCode).toBe(200);
  const mail = { time: 'opening', recipients: ['tom', 'mara'], paper: 'a4' };
  expect((await manager.send('PUT', '/api/night-delivery', mail)).statusCode).toBe(200);

  expect((await manager.send('DELETE', '/api/people/tom')).statusCode).toBe(200);
  const namesake = await test.person(manager, 'technician', 'Tom');
  expect((await namesake.send('GET', '/api/session')).json()).toMatchObject({ person: { id: 'tom' } });
  expect(test.lab.running.notices.subscriptions.of('tom')).toEqual([]);
  expect((await tom.send('GET', '/api/stations')).statusCode).toBe(401);
  expect(test.lab.running.lab().notificationPlan).toMatchObject({ rota: { people: ['mara'] }, absences: [] });
  expect((await manager.send('GET', '/api/night-delivery')).json()).toMatchObject({ recipients: ['mara'] });

  // The lab file that is given is a lab file that is taken.
  const { yaml } = (await manager.send('GET', '/api/lab-file')).json<{ yaml: string }>();
  await manager.send('POST', '/api/session/confirm', { password: PASSWORDS.manager });
  expect((await manager.send('PUT', '/api/lab-file', { yaml })).statusCode).toBe(200);
  await test.close();
});

it('A person who is removed while they sign in or change their password leaves neither a session nor a password to a later one', async () => {
  // As dear as it takes for a removal to come in between.
  const test = await serverForTests({ passwordCost: { logN: 16, r: 8, p: 1 } });
  const manager = await test.manager();
  const tom = await test.person(manager, 'technician', 'Tom');
  const another = test.browser();
  const newPassword = 'a password of the old Tom';
  const signingIn = another.send('POST', '/api/session', { name: 'Tom', password: PASSWORDS.technician });
  const changing = tom.send('PUT', '/api/account/password', { password: PASSWORDS.technician, newPassword });
  // Both are read and wait for their hashes, which take some hundred milliseconds.
  for (let tick = 0; tick < 50; tick += 1) await new Promise(setImmediate);
  expect((await manager.send('DELETE', '/api/people/tom')).statusCode).toBe(200);
  await Promise.all([signingIn, changing]);
  await manager.send('POST', '/api/people', { name: 'Tom', role: 'manager' });
  for (const browser of [tom, another])
    expect((await browser.send('GET', '/api/stations')).statusCode).toBe(401);
  for (const password of [PASSWORDS.technician, newPassword])
    expect(
      (await test.browser().send('POST', '/api/session', { name: 'Tom', password })).statusCode,
    ).not.toBe(200);
  await test.close();
});
