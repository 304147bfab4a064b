// The screen of the group over a real PostgreSQL, requested as a browser does.

import { once } from 'node:events';
import { connect } from 'node:net';
import { text } from 'node:stream/consumers';
import type { FastifyInstance } from 'fastify';
import pg from 'pg';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { type Changes, followChanges } from '../../group/changes.ts';
import type { GroupMessage } from '../../group/decode.ts';
import { type AddedPerson, addPerson, removePerson } from '../../group/people.ts';
import { buildGroupServer } from '../../group/server.ts';
import { migrate } from '../../group/tables.ts';
import { writeMessages } from '../../group/write.ts';
import { alarmOf, chargeOf, dayOf, minuteOf, patternOf, standingOf } from './group-messages.ts';
import { type Postgres, startPostgres } from './postgres.ts';

describe('the screen of a group', () => {
  let postgres: Postgres;
  let client: pg.Client;
  let pool: pg.Pool;
  let changes: Changes;
  let server: FastifyInstance;
  let later = 0;
  beforeAll(async () => {
    postgres = await startPostgres();
    client = new pg.Client({ connectionString: postgres.url });
    await client.connect();
    await migrate(client);
    pool = new pg.Pool({ connectionString: postgres.url });
    changes = followChanges(postgres.url);
  });
  afterAll(async () => {
    await changes.stop();
    await pool.end();
    await client.end();
    await postgres.dispose();
  });
  beforeEach(() => {
    later = 0;
    server = buildGroupServer({ pool, changes, now: () => Date.now() + later, provider: null });
  });
  afterEach(async () => {
    await server.close();
    await client.query(
      'TRUNCATE lab, lab_minute, lab_day, alarm_change, lab_record, group_person, group_session',
    );
  });

  const report = (...messages: readonly GroupMessage[]) => writeMessages(client, messages);
  const standing = (site: string, change: Parameters<typeof standingOf>[1] = {}) =>
    report({ kind: 'standing', body: standingOf(site, change) });
  const signedIn = async (person: AddedPerson = {}): Promise<Readonly<Record<string, string>>> => {
    const key = (await addPerson(client, 'Ada Lind', person)) ?? '';
    const answer = await server.inject({
      method: 'POST',
      url: '/sign-in',
      payload: new URLSearchParams({ key }).toString(),
      headers: { 'content-type': 'application/x-www-form-urlencoded' },
    });
    expect(answer.statusCode).toBe(303);
    return { cookie: String(answer.headers['set-cookie']).split(';')[0] ?? '' };
  };
  const get = (url: string, headers: Readonly<Record<string, string>> = {}) =>
    server.inject({ url, headers });

  it('shows nothing before somebody has signed in, and shows where', async () => {
    await standing('north');
    for (const url of ['/', '/compare', '/lab/north'])
      expect((await get(url)).headers.location, url).toBe('/sign-in');
    for (const url of ['/labs', '/live']) expect((await get(url)).statusCode, url).toBe(401);
  });

  it('refuses a key that is not known, and one that was taken back', async () => {
    const headers = await signedIn();
    expect((await get('/', headers)).statusCode).toBe(200);
    await removePerson(client, 'Ada Lind');
    expect((await get('/', headers)).headers.location).toBe('/sign-in');
    const wrong = await server.inject({
      method: 'POST',
      url: '/sign-in',
      payload: 'key=guessed',
      headers: { 'content-type': 'application/x-www-form-urlencoded' },
    });
    expect(wrong.statusCode).toBe(401);
    expect(wrong.headers['set-cookie']).toBeUndefined();
  });

  it('signs nobody in or out for another site', async () => {
    const headers = await signedIn();
    const forged = await server.inject({
      method: 'POST',
      url: '/sign-out',
      headers: { ...headers, origin: 'https://elsewhere.example' },
    });
    expect(forged.statusCode).toBe(403);
    expect((await get('/', headers)).statusCode).toBe(200);
  });

  it('keeps neither a key nor a session as it is', async () => {
    const { cookie = '' } = await signedIn();
    const stored = await client.query("SELECT encode(token_hash, 'escape') AS text FROM group_session");
    expect(stored.rows[0]?.text).not.toContain(cookie.split('=')[1]);
  });

  it('shows what to do while no lab has reported', async () => {
    expect((await get('/', await signedIn())).body).toContain('No lab has reported yet');
  });

  it('puts labs that need hands first, then those that are silent, then the others', async () => {
    await standing('calm');
    await standing('burning', { alarms: [alarmOf('burning', 1).alarm] });
    await standing('silent');
    await client.query("UPDATE lab SET taken_at = taken_at - interval '10 minutes' WHERE site = 'silent'");
    const { body } = await get('/', await signedIn());
    const places = ['Needs hands', 'Lab burning', 'No report', 'Lab silent', 'Nothing to do', 'Lab calm'].map(
      (text) => body.indexOf(text),
    );
    expect(places).toEqual([...places].sort((a, b) => a - b));
    expect(places).not.toContain(-1);
  });

  it('never counts a lab among those with nothing to do once it is silent', async () => {
    await standing('north');
    const headers = await signedIn();
    expect((await get('/labs', headers)).body).toContain('Nothing to do');
    later = 200_000;
    const { body } = await get('/labs', headers);
    expect(body).not.toContain('Nothing to do');
    expect(body).toContain('how it is now is not known');
  });

  it('writes what a lab reports as text, whatever it is', async () => {
    await standing('north', { name: '<script>alert(1)</script>', time_zone: 'No/Where' });
    const headers = await signedIn();
    for (const url of ['/', '/compare', '/lab/north']) {
      const { body, statusCode } = await get(url, headers);
      expect(statusCode, url).toBe(200);
      expect(body, url).not.toContain('<script>alert');
    }
  });

  it('shows one lab as it stands, and marks one that never reported', async () => {
    await standing('north');
    const headers = await signedIn();
    const { body } = await get('/lab/north', headers);
    expect(body).toContain('Melt pot');
    expect(body).toContain('In window');
    expect(body).toContain('61.5 °C');
    expect((await get('/lab/south', headers)).statusCode).toBe(404);
  });

  it('compares labs per station and day that was reported, and invents no figure where there is none', async () => {
    const day = Date.now() - 2 * 86_400_000;
    for (const site of ['busy', 'quiet', 'new']) await standing(site);
    for (const site of ['busy', 'quiet'])
      await client.query(
        `INSERT INTO lab_minute SELECT $1, to_timestamp($2) + make_interval(mins => n), 1, now(), '[]'
         FROM generate_series(0, 1439) n`,
        [site, day / 1000],
      );
    const at = (millis: number) => new Date(day + millis).toISOString();
    const changes = [0, 1, 2, 3].flatMap((number) => {
      const raised = alarmOf('busy', number + 1);
      const alarm = { ...raised, at: at(number * 3_600_000) };
      return [
        { kind: 'alarm' as const, body: alarm },
        {
          kind: 'alarm' as const,
          body: { ...alarm, change: 'acknowledged', at: at(number * 3_600_000 + 240_000) },
        },
      ];
    });
    await report(...changes);
    const { body } = await get('/compare', await signedIn());
    const row = (name: string) =>
      (body.split(`Lab ${name}</a>`)[1]?.split('</tr>')[0] ?? '')
        .split(/<[^>]*>/)
        .filter((cell) => cell !== '');
    // Four alarms, two stations, one day.
    expect(row('busy').slice(0, 5)).toEqual(['1.0', '2.00', '–', '4.0 min', '0 of 4']);
    expect(row('quiet').slice(0, 5)).toEqual(['1.0', '0.00', '–', '–', '–']);
    expect(row('new').slice(0, 5)).toEqual(['0.0', '–', '–', '–', '–']);
  });

  it('compares swings, time over the storage limit, dose and nuisance alarms by whole days', async () => {
    await standing('north');
    const date = (daysAgo: number) => new Date(Date.now() - daysAgo * 86_400_000).toISOString().slice(0, 10);
    const place = { station: 'shelf', measured_minutes: 1440, outside_minutes: 72, largest_swing_celsius: 3 };
    const pot = { station: 'pot-1', measured_minutes: 1440, hot_minutes: 600, dose_hours: 5 };
    const bath = { ...pot, station: 'bath', dose_hours: null };
    const first = dayOf('north', date(1), {
      places: [place],
      heaters: [pot, bath],
      stations: 4,
      alarms: { announced: 3, nuisance: 2 },
    });
    const second = dayOf('north', date(2), {
      places: [
        { ...place, outside_minutes: 0, largest_swing_celsius: 1 },
        // Hardly measured: its small swing proves nothing.
        { ...place, station: 'cabinet', measured_minutes: 0, outside_minutes: 0, largest_swing_celsius: 0 },
      ],
      heaters: [{ ...pot, dose_hours: 7 }],
      stations: 4,
      alarms: { announced: 0, nuisance: 0 },
    });
    const long = dayOf('north', date(30), { places: [{ ...place, largest_swing_celsius: 40 }] });
    await report(...[first, second, long, first].map((body) => ({ kind: 'day' as const, body })));
    const { body } = await get('/compare', await signedIn());
    const cells = (body.split('Lab north</a>')[1]?.split('</tr>')[0] ?? '')
      .split(/<[^>]*>/)
      .filter((cell) => cell !== '');
    // Two nuisance alarms in two days of four stations; 3 K and 1 K; 72 of 2880 minutes; 12 h in two pot-days.
    expect(cells.slice(2, 3)).toEqual(['0.25']);
    expect(cells.slice(5, 8)).toEqual(['2.0 K', '2.5 %', '6.0 h']);
  });

  it('finds the pots and patterns of every lab that hold the wax of a lot', async () => {
    const lot = { maker: 'Ostwax', lot: 'X-12045' };
    const secondLot = { maker: 'Ostwax', lot: 'Y-7' };
    for (const site of ['north', 'south']) await standing(site);
    await report(
      { kind: 'charge', body: chargeOf('north', 'c-1', [lot, secondLot]) },
      { kind: 'charge', body: chargeOf('south', 'c-2', [secondLot]) },
      {
        kind: 'pattern',
        body: patternOf('north', 'p-1', { case_reference: 'AB-1042', lots: [lot, secondLot] }),
      },
      // Of a lab whose version does not report the lots of the charge.
      { kind: 'pattern', body: patternOf('south', 'p-2', { lot }) },
      { kind: 'pattern', body: patternOf('south', 'p-3', { lots: [secondLot] }) },
    );
    const headers = await signedIn();
    const { body } = await get(`/recall?lot=${encodeURIComponent('x 12045')}`, headers);
    expect(body).toContain('1 charge<');
    expect(body).toContain('2 patterns<');
    expect(body).toContain('Melt pot');
    expect(body).toContain('AB-1042');
    expect(body).toContain('p-2');
    expect(body).not.toContain('p-3');
    expect((await get('/recall?lot=unheard', headers)).body).toContain(
      'No lab has reported a lot of this name',
    );
    expect((await get('/recall?lot=a&lot=%3Cb%3E', headers)).body).toContain('value="a &#60;b&#62;"');
  });

  it('recalls nothing of another lab for a person of one lab only', async () => {
    const lot = { maker: 'Ostwax', lot: 'X-12045' };
    for (const site of ['north', 'south']) {
      await standing(site);
      await report({ kind: 'pattern', body: patternOf(site, `p-${site}`, { lots: [lot] }) });
    }
    const { body } = await get('/recall?lot=X-12045', await signedIn({ site: 'south' }));
    expect(body).toContain('p-south');
    expect(body).not.toContain('p-north');
  });

  it('reports over the live line that something was reported', async () => {
    const headers = await signedIn();
    const address = await server.listen({ host: '127.0.0.1', port: 0 });
    const answer = await fetch(`${address}/live`, { headers });
    const reader = answer.body?.pipeThrough(new TextDecoderStream()).getReader();
    let seen = '';
    while (!seen.includes('data:')) {
      await standing('north');
      seen += (await reader?.read())?.value ?? '';
    }
    await reader?.cancel();
    expect(answer.headers.get('content-type')).toBe('text/event-stream');
  });

  it('gives one person ten places on the live line at once, and another one as one of them ends', async () => {
    const headers = await signedIn();
    const address = await server.listen({ host: '127.0.0.1', port: 0 });
    const listeners = Array.from({ length: 10 }, () => new AbortController());
    const open = (signal?: AbortSignal) =>
      fetch(`${address}/live`, { headers, ...(signal !== undefined && { signal }) });
    for (const { signal } of listeners) expect((await open(signal)).status).toBe(200);
    expect((await open()).status).toBe(429);
    listeners[0]?.abort();
    await expect.poll(async () => (await open(listeners[1]?.signal)).status).toBe(200);
    for (const listener of listeners) listener.abort();
  });

  it('ends a connection that never finishes its request', async () => {
    const impatient = buildGroupServer({ pool, changes, now: Date.now, provider: null, requestSeconds: 1 });
    const port = Number(new URL(await impatient.listen({ host: '127.0.0.1', port: 0 })).port);
    const socket = connect(port, '127.0.0.1', () =>
      socket.write('POST /sign-in HTTP/1.1\r\nhost: localhost\r\nx-a'),
    );
    expect(await text(socket)).toContain('408');
    await impatient.close();
  });

  it('ends a connection that sends many requests ahead and reads no answer', async () => {
    const port = Number(new URL(await server.listen({ host: '127.0.0.1', port: 0 })).port);
    const greedy = connect(port, '127.0.0.1').resume();
    const closed = once(greedy, 'close');
    greedy.on('error', () => {});
    greedy.write('GET /sign-in HTTP/1.1\r\nhost: localhost\r\n\r\n'.repeat(1000));
    await closed;
    expect(greedy.destroyed).toBe(true);
  });

  it('takes minutes of the same lab twice as one', async () => {
    const minute = { kind: 'minute' as const, body: minuteOf('north', 1, 5) };
    await report(minute, minute);
    await report(minute);
    expect((await client.query('SELECT * FROM lab_minute')).rowCount).toBe(1);
  });
});
