// Offers of a group to its labs, there and back: a real Mosquitto with the rights of the guide, a real PostgreSQL, the
// group's own copy and screen, and a lab's own link.

import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { FastifyInstance } from 'fastify';
import { connectAsync, type MqttClient } from 'mqtt';
import pg from 'pg';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { type Changes, followChanges } from '../../group/changes.ts';
import { startCopy } from '../../group/copy.ts';
import type { LastingConnection } from '../../group/lasting-connection.ts';
import { type AddedPerson, addPerson, signIn } from '../../group/people.ts';
import { removeLab } from '../../group/remove-lab.ts';
import { buildGroupServer } from '../../group/server.ts';
import { migrate } from '../../group/tables.ts';
import { offersMessage, offersTopic } from '../../lab/group/group-offer.ts';
import { type GroupLinkLab, groupLinkLab } from './group-link-lab.ts';
import { type Mosquitto, startMosquitto } from './mosquitto.ts';
import { type Postgres, startPostgres } from './postgres.ts';
import { until } from './until.ts';

/** As they are in the guide, for two labs. */
const RIGHTS = (() => {
  const written = /```\n(user group[\s\S]*?)```/.exec(readFileSync('docs/group.md', 'utf8'))?.[1] ?? '';
  return `${written}\n${/user north[\s\S]*/.exec(written)?.[0].replaceAll('north', 'south') ?? ''}`;
})();

describe('offers of a group to its labs', () => {
  let postgres: Postgres;
  let broker: Mosquitto;
  let client: pg.Client;
  let pool: pg.Pool;
  let changes: Changes;
  let copy: LastingConnection;
  let server: FastifyInstance;
  let lab: GroupLinkLab;
  let giver = '';
  const labs: GroupLinkLab[] = [];
  const clients: MqttClient[] = [];
  const log: string[] = [];

  const signedIn = async (name: string, person: AddedPerson = {}): Promise<string> =>
    `group_session=${await signIn(client, (await addPerson(client, name, person)) ?? '')}`;
  const get = async (url: string, cookie = giver) => server.inject({ url, headers: { cookie } });
  const post = (url: string, fields: Readonly<Record<string, string>>, cookie = giver, origin?: string) =>
    server.inject({
      method: 'POST',
      url,
      payload: new URLSearchParams(fields).toString(),
      headers: {
        cookie,
        'content-type': 'application/x-www-form-urlencoded',
        ...(origin !== undefined && { origin }),
      },
    });
  const openLab = async (site: string): Promise<GroupLinkLab> => {
    const opened = await groupLinkLab(site, Date.now());
    labs.push(opened);
    opened.start();
    opened.switchOn({ url: broker.url, user: site });
    await until(
      async () => (await client.query('SELECT 1 FROM lab_figures WHERE site = $1', [site])).rowCount === 1,
    );
    return opened;
  };
  const CEILING = { what: 'wax', wax: 'inlay-type-2', 'value.ceiling': '95', note: 'From the new sheet' };

  beforeAll(async () => {
    [postgres, broker] = await Promise.all([
      startPostgres(),
      startMosquitto({
        configuration: (folder, port) => {
          writeFileSync(join(folder, 'rights'), RIGHTS);
          return [
            ...[`listener ${port} 127.0.0.1`, 'allow_anonymous true', `acl_file ${folder}/rights`],
            ...['user root', 'log_dest none', ''],
          ].join('\n');
        },
      }),
    ]);
    client = new pg.Client({ connectionString: postgres.url });
    await client.connect();
    await migrate(client);
    pool = new pg.Pool({ connectionString: postgres.url });
    changes = followChanges(postgres.url);
    server = buildGroupServer({ pool, changes, now: Date.now, provider: null });
    copy = startCopy(
      { postgres: postgres.url, broker: { urls: [broker.url.replace('//', '//group:x@')] } },
      (line) => log.push(line),
    );
    giver = await signedIn('Noor Berg', { isGiver: true });
    await until(() => log.some((line) => line.includes('16 of 16')));
    lab = await openLab('north');
  });
  afterEach(async () => {
    await client.query('TRUNCATE offer CASCADE');
  });
  afterAll(async () => {
    for (const opened of labs) await opened.close();
    for (const opened of clients) await opened.endAsync(true);
    await server.close();
    await copy.stop();
    await changes.stop();
    await pool.end();
    await client.end();
    await broker.dispose();
    await postgres.dispose();
  });

  it('show what would change in each lab first, reach a lab that was away, and show its answer', async () => {
    lab.repository.saveWaxOverride('inlay-type-2', { ceiling: 99.5 });
    await until(async () =>
      JSON.stringify((await client.query('SELECT body FROM lab_figures')).rows).includes('99.5'),
    );
    const preview = await post('/give/preview', { ...CEILING, 'site.north': 'on' });
    expect(preview.statusCode).toBe(200);
    const cells = preview.body
      .split('<tbody>')[1]
      ?.split(/<[^>]*>/)
      .filter((cell) => cell.trim() !== '');
    expect(cells?.slice(0, 3)).toEqual([expect.stringMatching(/Ceiling$/), '99.5 °C', '95 °C']);
    expect((await client.query('SELECT 1 FROM offer')).rowCount).toBe(0);
    await lab.stop();
    expect((await post('/give/send', { ...CEILING, 'site.north': 'on' })).headers.location).toBe('/give');
    expect((await get('/give')).body).toContain('no answer yet');
    lab.start();
    await until(() => lab.offers.openCount() === 1);
    const [arrived] = lab.offers.all();
    expect(arrived?.offer).toMatchObject({
      note: 'From the new sheet',
      by: 'Noor Berg',
      items: [{ kind: 'wax-values', wax: 'inlay-type-2', values: { ceiling: 95 } }],
    });
    const id = arrived?.offer.id ?? '';
    lab.offers.answer({ id, answer: 'accepted', at: lab.now(), by: 'Ilse Brandt' });
    await until(async () => (await get('/give')).body.includes('accepted'));
    const { body } = await get('/give');
    expect(body).not.toContain('Ilse');
    expect(body).not.toContain('Take back');
    // The group's own messages are no reports.
    expect((await client.query('SELECT reason FROM refused_message')).rows).toEqual([]);
  });

  it('are taken back where no manager has answered', async () => {
    await post('/give/send', { ...CEILING, 'site.north': 'on' });
    await until(() => lab.offers.openCount() === 1);
    const id = lab.offers.all()[0]?.offer.id ?? '';
    expect((await post('/give/take-back', { offer: id })).statusCode).toBe(303);
    await until(() => lab.offers.openCount() === 0);
    expect((await get('/give')).body).toContain('taken back');
  });

  it('can be written for no lab, and be read of no other lab, by the user of a lab', async () => {
    const south = await connectAsync(broker.url, { username: 'south', protocolVersion: 5 });
    clients.push(south);
    const forged = JSON.stringify(offersMessage('north', Date.now(), []));
    for (const site of ['north', 'south'])
      await expect(south.publishAsync(offersTopic(site), forged, { qos: 1, retain: true })).rejects.toThrow(
        /authorized/i,
      );
    const received: string[] = [];
    south.on('message', (topic) => received.push(topic));
    await south
      .subscribeAsync(['wax-group-offers/#', 'wax-group/#', offersTopic('north')], { qos: 1 })
      .catch(() => {});
    await post('/give/send', { ...CEILING, 'site.north': 'on' });
    await until(() => lab.offers.openCount() === 1);
    expect(received).toEqual([]);
  });

  it('show which labs have reported no figures, could not accept them, or hold them already', async () => {
    await client.query(
      `INSERT INTO lab SELECT 'silent', 1, now(), jsonb_set(standing, '{name}', '"Lab silent"'), now() FROM lab WHERE site = 'north'`,
    );
    const preview = async (fields: Readonly<Record<string, string>>) =>
      (await post('/give/preview', { ...fields, 'site.north': 'on', 'site.silent': 'on' })).body;
    expect(await preview(CEILING)).toContain('has not reported its own figures');
    expect(await preview({ ...CEILING, 'value.ceiling': '20' })).toContain('could not accept it');
    const rule = { what: 'rule', place: 'shelf', rule: 'storage-warm', 'value.on_delay_seconds': '300' };
    expect(await preview(rule)).toContain('Nothing would change');
    const lot = { what: 'lot', wax: 'sticky', maker: 'Kerber', lot: 'X-<9>' };
    expect(await preview(lot)).toContain('X-&#60;9&#62;');
    await client.query("DELETE FROM lab WHERE site = 'silent'");
  });

  it.each([
    ['without a figure', { 'value.ceiling': '' }, 'Enter at least one figure'],
    ['with a figure that is no number', { 'value.ceiling': 'hot' }, 'no number'],
    ['for no lab', { 'site.north': undefined }, 'Choose at least one lab'],
    [
      'for a lab that never reported',
      { 'site.north': undefined, 'site.nowhere': 'on' },
      'Choose at least one lab',
    ],
    ['with a note that is turned round', { note: 'a\u202eb' }, 'signs that cannot be seen'],
    ['of a lot without a number', { what: 'lot', maker: 'Kerber' }, 'maker and lot number'],
    [
      'of a lot of a day that is none',
      { what: 'lot', maker: 'K', lot: '1', expires_on: '2031-02-31' },
      'as a date',
    ],
  ])('are asked for again %s, with what was typed', async (_, change, words) => {
    const fields = Object.entries({ ...CEILING, 'site.north': 'on', ...change }).flatMap(([name, value]) =>
      value === undefined ? [] : [[name, value]],
    );
    for (const url of ['/give/preview', '/give/send']) {
      const answer = await post(url, Object.fromEntries(fields));
      expect(answer.statusCode).toBe(422);
      expect(answer.body).toContain(words);
      expect(answer.body).toContain('action="/give/preview"');
    }
    expect((await client.query('SELECT 1 FROM offer')).rowCount).toBe(0);
  });

  it('are at most as many open ones as a lab can look through', async () => {
    const send = () => post('/give/send', { ...CEILING, 'site.north': 'on' });
    for (let sent = 0; sent < 50; sent += 1) expect((await send()).statusCode).toBe(303);
    const refused = await send();
    expect(refused.statusCode).toBe(422);
    expect(refused.body).toContain('nothing was sent');
    await until(() => lab.offers.openCount() === 50);
  });

  it('are given neither by a reader, nor by a person of one lab, nor for another site', async () => {
    const fields = { ...CEILING, 'site.north': 'on' };
    const reader = await signedIn('Ada Lind');
    const ofLab = await signedIn('Uma Veld', { site: 'north', isGiver: true });
    for (const cookie of [reader, ofLab]) {
      for (const url of ['/give/preview', '/give/send', '/give/change', '/give/take-back'])
        expect((await post(url, fields, cookie)).statusCode, url).toBe(403);
      const page = await get('/give?what=wax&wax=inlay-type-2', cookie);
      expect(page.body).toContain('role “giver”');
      expect(page.body).not.toContain('/give/preview');
    }
    expect((await post('/give/send', fields, giver, 'https://elsewhere.example')).statusCode).toBe(403);
    expect((await post('/give/send', fields, '')).headers.location).toBe('/sign-in');
    expect((await client.query('SELECT 1 FROM offer')).rowCount).toBe(0);
  });

  it.each([
    '/give',
    '/give?what=rule&place=melt-pot',
    '/give?what=rule&place=melt-pot&rule=over-ceiling',
    '/give?what=rule&place=lab&rule=gateway-lost',
    '/give?what=wax&wax=sticky',
    '/give?what=lot&wax=sticky',
    '/give?what=wax&wax=of-tomorrow',
    '/give?what=rule&place=__proto__&rule=constructor',
    '/give?what=wax&what=lot&wax=%3Cscript%3E',
  ])('have a page for %s in words', async (url) => {
    for (const language of ['en', 'de']) {
      const page = await server.inject({ url, headers: { cookie: giver, 'accept-language': language } });
      expect(page.statusCode).toBe(200);
      expect(page.body).not.toMatch(/group\.(?!css|js)|figure-unit|wax-value\.|undefined|<script>/);
    }
  });

  it('are taken back from a lab that the group removes', async () => {
    await post('/give/send', { ...CEILING, 'site.north': 'on' });
    await until(() => lab.offers.openCount() === 1);
    expect(await removeLab(client, 'north')).toBe(true);
    await until(() => lab.offers.openCount() === 0);
  });
});
