import ICAL from 'ical.js';
import { describe, expect, it } from 'vitest';
import { DEFAULT_NOTIFICATION_PLAN } from '../../lab/notification-plan.ts';
import { type Browser, serverForTests } from '../../tests/server-for-tests.ts';

interface Made {
  readonly key: { readonly id: string };
  readonly secret: string;
  readonly path: string;
}

const linkOf = async (manager: Browser): Promise<Made> =>
  (await manager.send('POST', '/api/calendar-links', { name: 'Phone of Tom' })).json<Made>();

const eventsOf = (text: string) =>
  new ICAL.Component(ICAL.parse(text)).getAllSubcomponents('vevent').map((each) => {
    const event = new ICAL.Event(each);
    return {
      uid: event.uid,
      summary: event.summary,
      start: event.startDate.toJSDate().toISOString(),
      end: event.endDate.toJSDate().toISOString(),
    };
  });

describe('the calendar feed', () => {
  it('shows the turns of duty to whoever has its link, in the language of whoever made it', async () => {
    const test = await serverForTests({ demo: false });
    const manager = await test.manager();
    await test.person(manager, 'technician', 'Tom Öz');
    const { repository } = test.lab.running;
    const people = repository.lab().people.map(({ id }) => id);
    repository.saveNotificationPlan({
      ...DEFAULT_NOTIFICATION_PLAN,
      rota: { people, startsOn: '2031-03-03', handoverTime: '08:00' },
    });
    const { path } = await linkOf(manager);
    const answer = await test.browser().send('GET', path);
    expect(answer.headers['content-type']).toContain('text/calendar');
    expect(answer.headers['cache-control']).toContain('no-store');
    const events = eventsOf(answer.body);
    const turn = events.find(({ start }) => start === '2031-03-10T07:00:00.000Z');
    expect(turn).toMatchObject({ summary: 'On duty: Tom Öz', end: '2031-03-17T07:00:00.000Z' });
    expect(new Set(events.map(({ uid }) => uid)).size).toBe(events.length);
    expect(eventsOf((await test.browser().send('GET', path)).body)).toEqual(events);
    await test.close();
  });

  it('shows when patterns are due by their ids, and no case', async () => {
    const test = await serverForTests({ demo: false });
    const manager = await test.manager();
    const { repository } = test.lab.running;
    repository.savePattern({
      id: 'K7Q2',
      caseReference: 'Frau Geheim',
      wax: 'inlay-type-2',
      technique: 'layered',
      length_millimetres: 9,
      tolerance_micrometres: 60,
      madeAt: '2031-03-03T07:00:00.000Z',
      madeBy: 'Mara',
      stays: [{ station: 'shelf-1', from: '2031-03-03T07:00:00.000Z', to: null }],
      fate: null,
    });
    const dueAt = Date.parse('2031-03-03T11:30:00Z');
    Object.assign(test.lab.running, { patternOutlook: () => ({ verdict: { dueAt } }) });
    const { path } = await linkOf(manager);
    const { body } = await test.browser().send('GET', path);
    expect(eventsOf(body)).toMatchObject([
      { summary: 'Invest pattern K7Q2 (Pattern shelf)', start: '2031-03-03T11:30:00.000Z' },
    ]);
    expect(body).not.toContain('Geheim');
    await test.close();
  });

  it('is closed to a link that was revoked, to a wall link and to a guess', async () => {
    const test = await serverForTests({ demo: false });
    const manager = await test.manager();
    const made = await linkOf(manager);
    expect((await manager.send('DELETE', `/api/calendar-links/${made.key.id}`)).statusCode).toBe(200);
    const wall = (await manager.send('POST', '/api/wall-links', { name: 'Wall' })).json<Made>();
    for (const key of [made.secret, wall.secret, 'wwc_guess']) {
      const answer = await test.browser().send('GET', `/api/calendar.ics?key=${key}`);
      expect([answer.statusCode, answer.json().code]).toEqual([404, 'unknown-key']);
    }
    const technician = await test.person(manager, 'technician', 'Tom');
    expect((await technician.send('POST', '/api/calendar-links', { name: 'x' })).statusCode).toBe(403);
    await test.close();
  });
});
