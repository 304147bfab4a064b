// The screen of the group over a real PostgreSQL, asked as a browser asks.

import type { FastifyInstance } from 'fastify';
import pg from 'pg';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { type Changes, followChanges } from '../../group/changes.ts';
import type { GroupMessage } from '../../group/decode.ts';
import { addPerson, removePerson } from '../../group/people.ts';
import { buildGroupServer } from '../../group/server.ts';
import { migrate } from '../../group/tables.ts';
import { writeMessages } from '../../group/write.ts';
import { alarmOf, minuteOf, standingOf } from './group-messages.ts';
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
    await client.query('TRUNCATE lab, lab_minute, alarm_change, lab_record, group_person, group_session');
  });

  const report = (...messages: readonly GroupMessage[]) => writeMessages(client, messages);
  const standing = (site: string, change: Parameters<typeof standingOf>[1] = {}) =>
    report({ kind: 'standing', body: standingOf(site, change) });
  const signedIn = async (): Promise<Readonly<Record<string, string>>> => {
    const key = (await addPerson(client, 'Ada Lind')) ?? '';
    const answer = await server.inject({
      ...{ method: 'POST', url: '/sign-in', payload: new URLSearchParams({ key }).toString() },
      headers: { 'content-type': 'application/x-www-form-urlencoded' },
    });
    expect(answer.statusCode).toBe(303);
    return { cookie: String(answer.headers['set-cookie']).split(';')[0] ?? '' };
  };
  const get = (url: string, headers: Readonly<Record<string, string>> = {}) =>
    server.inject({ url, headers });

  it('shows nothing before somebody has signed in, and says where', async () => {
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
      ...{ method: 'POST', url: '/sign-in', payload: 'key=guessed' },
      headers: { 'content-type': 'application/x-www-form-urlencoded' },
    });
    expect(wrong.statusCode).toBe(401);
    expect(wrong.headers['set-cookie']).toBeUndefined();
  });

  it('signs nobody in or out for another site', async () => {
    const headers = await signedIn();
    const forged = await server.inject({
      ...{ method: 'POST', url: '/sign-out', headers: { ...headers, origin: 'https://elsewhere.example' } },
    });
    expect(forged.statusCode).toBe(403);
    expect((await get('/', headers)).statusCode).toBe(200);
  });

  it('keeps neither a key nor a session as it is', async () => {
    const { cookie = '' } = await signedIn();
    const stored = await client.query("SELECT encode(token_hash, 'escape') AS text FROM group_session");
    expect(stored.rows[0]?.text).not.toContain(cookie.split('=')[1]);
  });

  it('says what to do while no lab has reported', async () => {
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
    expect(body).toContain('nobody knows how it is now');
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

  it('shows one lab as it stands, and says so of one that never reported', async () => {
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
      const one = { ...raised, at: at(number * 3_600_000) };
      return [
        { kind: 'alarm' as const, body: one },
        {
          kind: 'alarm' as const,
          body: { ...one, change: 'acknowledged', at: at(number * 3_600_000 + 240_000) },
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
    expect(row('busy').slice(0, 4)).toEqual(['1.0', '2.00', '4.0 min', '0 of 4']);
    expect(row('quiet').slice(0, 4)).toEqual(['1.0', '0.00', '–', '–']);
    expect(row('new').slice(0, 4)).toEqual(['0.0', '–', '–', '–']);
  });

  it('says over the live line that something was reported', async () => {
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

  it('takes minutes of the same lab twice as one', async () => {
    const minute = { kind: 'minute' as const, body: minuteOf('north', 1, 5) };
    await report(minute, minute);
    await report(minute);
    expect((await client.query('SELECT * FROM lab_minute')).rowCount).toBe(1);
  });
});
