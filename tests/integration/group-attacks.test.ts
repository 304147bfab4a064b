// A group under attack by the user of one of its labs: a real Mosquitto with one user a lab, a real PostgreSQL, the
// process's own intake and screen. After each attack the other lab's reports are still taken, and the pages answer.

import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { FastifyInstance } from 'fastify';
import { connectAsync, type MqttClient } from 'mqtt';
import pg from 'pg';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { type Changes, followChanges } from '../../group/changes.ts';
import { startCopy } from '../../group/copy.ts';
import type { LastingConnection } from '../../group/lasting-connection.ts';
import { addPerson, signIn } from '../../group/people.ts';
import { buildGroupServer } from '../../group/server.ts';
import { migrate } from '../../group/tables.ts';
import {
  GROUP_MESSAGE_MOST_BYTES,
  type GroupMessageKind,
  groupTopic,
} from '../../lab/group/group-message.ts';
import { alarmOf, standingOf } from './group-messages.ts';
import { type Mosquitto, startMosquitto } from './mosquitto.ts';
import { type Postgres, startPostgres } from './postgres.ts';
import { until } from './until.ts';

const RIGHTS = [
  ...['user group', 'topic read wax-group/#'],
  ...['user north', 'topic write wax-group/+/north/#'],
  ...['user south', 'topic write wax-group/+/south/#'],
].join('\n');

describe('a group under attack by the user of one lab', () => {
  let postgres: Postgres;
  let broker: Mosquitto;
  let pool: pg.Pool;
  let changes: Changes;
  let copy: LastingConnection;
  let server: FastifyInstance;
  let north: MqttClient;
  let south: MqttClient;
  let cookie = '';
  let witness = 0;
  const log: string[] = [];

  const userClient = (username: string, protocolVersion: 4 | 5 = 5): Promise<MqttClient> =>
    connectAsync(broker.url, { username, protocolVersion });
  const send = (client: MqttClient, site: string, kind: GroupMessageKind, body: unknown) =>
    client.publishAsync(groupTopic(site, kind), typeof body === 'string' ? body : JSON.stringify(body), {
      qos: 1,
    });
  const rows = (text: string, values: unknown[] = []) =>
    postgres.query<Record<string, unknown>>(text, values);
  const refusals = async (site: string): Promise<Readonly<Record<string, number>>> =>
    Object.fromEntries(
      (await rows('SELECT reason, times::int FROM refused_message WHERE site = $1', [site])).map(
        ({ reason, times }) => [reason, times],
      ),
    );
  /** A report of the other lab is taken, by the same connection to PostgreSQL as ever, and every page answers. */
  const expectStanding = async (): Promise<void> => {
    witness += 1;
    await send(south, 'south', 'alarm', alarmOf('south', witness));
    await until(
      async () => (await rows("SELECT 1 FROM alarm_change WHERE site = 'south'")).length === witness,
    );
    for (const url of ['/', '/labs', '/compare', '/lab/south', '/lab/north'])
      expect((await server.inject({ url, headers: { cookie } })).statusCode, url).toBe(200);
    expect(log.filter((line) => line.includes('PostgreSQL'))).toEqual([]);
  };

  beforeAll(async () => {
    postgres = await startPostgres();
    broker = await startMosquitto({
      configuration: (folder, port) => {
        writeFileSync(join(folder, 'rights'), `${RIGHTS}\n`);
        return [
          ...[`listener ${port} 127.0.0.1`, 'allow_anonymous true', `acl_file ${folder}/rights`],
          ...['user root', 'log_dest none', 'max_queued_messages 10000', ''],
        ].join('\n');
      },
    });
    const client = new pg.Client({ connectionString: postgres.url });
    await client.connect();
    await migrate(client);
    cookie = `group_session=${await signIn(client, (await addPerson(client, 'Ada Lind')) ?? '')}`;
    await client.end();
    pool = new pg.Pool({ connectionString: postgres.url });
    changes = followChanges(postgres.url);
    server = buildGroupServer({ pool, changes, now: () => Date.now(), provider: null });
    copy = startCopy(
      { postgres: postgres.url, broker: { urls: [broker.url.replace('//', '//group:x@')] } },
      (line) => log.push(line),
    );
    north = await userClient('north');
    south = await userClient('south');
    for (const [client, site] of [
      [north, 'north'],
      [south, 'south'],
    ] as const)
      await until(async () => {
        await send(client, site, 'standing', standingOf(site));
        return (await rows('SELECT 1 FROM lab WHERE site = $1', [site])).length > 0;
      });
  });
  afterAll(async () => {
    north.end(true);
    south.end(true);
    await copy.stop();
    await server.close();
    await changes.stop();
    await pool.end();
    await broker.dispose();
    await postgres.dispose();
  });
  beforeEach(() => rows('TRUNCATE refused_message'));

  it("takes nothing that the user of one lab publishes under another lab's site, nor of a site without a user", async () => {
    const forged = [groupTopic('south', 'standing'), groupTopic('ghost', 'standing')];
    const plain = await userClient('north', 4);
    for (const topic of forged) {
      await north
        .publishAsync(topic, JSON.stringify(standingOf('south', { name: 'Forged' })), { qos: 1 })
        .catch(() => {});
      await plain.publishAsync(topic, JSON.stringify(standingOf('ghost', { name: 'Forged' })), {
        qos: 1,
        retain: true,
      });
    }
    // Inside its own topic the site of the other.
    await send(north, 'north', 'standing', standingOf('south', { name: 'Forged' }));
    await until(async () => (await refusals('north')).site === 1);
    await expectStanding();
    expect(await rows("SELECT site FROM lab WHERE standing ->> 'name' = 'Forged' OR site = 'ghost'")).toEqual(
      [],
    );
    plain.end(true);
  });

  it('lets the user of a lab read nothing of the group', async () => {
    const seen: string[] = [];
    north.on('message', (topic) => seen.push(topic));
    await north.subscribeAsync('wax-group/#', { qos: 1 }).catch(() => {});
    await expectStanding();
    expect(seen).toEqual([]);
  });

  it('keeps one row a reason of refused messages, however many topics and payloads are tried', async () => {
    const topicOf = (end: string): string => groupTopic('north', 'alarm').replace(/alarm$/, end);
    for (let index = 0; index < 200; index += 1)
      await north.publishAsync(topicOf(`kind-${index}`), `${index}`, { qos: 1 });
    await north.publishAsync(topicOf('long'.repeat(5000)), '{}', { qos: 1 });
    await until(async () => (await refusals('north')).topic === 201);
    await expectStanding();
    expect(await rows("SELECT 1 FROM refused_message WHERE site = 'north'")).toHaveLength(1);
  });

  it('drops what the contract does not name, even nested deeper than PostgreSQL or JSON.stringify can go', async () => {
    const deep = `${'['.repeat(150_000)}${']'.repeat(150_000)}`;
    const body = JSON.stringify(standingOf('north', { name: 'Deep' }));
    await send(
      north,
      'north',
      'standing',
      `${body.slice(0, -1)},"extra":${deep},"__proto__":{"site":"south"}}`,
    );
    await until(
      async () => (await rows("SELECT 1 FROM lab WHERE standing ->> 'name' = 'Deep'")).length === 1,
    );
    expect(await rows("SELECT 1 FROM lab WHERE standing ? 'extra' OR standing ? '__proto__'")).toEqual([]);
    await expectStanding();
  });

  it.each([
    ['a leap second', '2016-12-31T23:59:60Z'],
    ['the year 0', '0000-01-01T00:00:00Z'],
    ['a year of six digits', '+275760-09-13T00:00:00.000Z'],
    ['another zone', '2031-01-01T00:00:00+02:00'],
  ])('refuses an instant that is %s, wherever it is', async (_what, instant) => {
    const { alarm } = alarmOf('north', 1);
    const pattern = {
      version: 1,
      site: 'north',
      offset: 1,
      sent_at: '2031-01-01T00:00:00Z',
      id: 'p',
      kind: 'inlay',
      wax: 'w',
      lot: null,
      station: null,
      made_at: '2031-01-01T00:00:00Z',
      verdict: null,
      reason: null,
      due_at: null,
      fate: { kind: 'remade', at: instant },
    };
    await send(
      north,
      'north',
      'standing',
      standingOf('north', { alarms: [{ ...alarm, raised_at: instant }] }),
    );
    await send(north, 'north', 'standing', standingOf('north', { sent_at: instant }));
    await send(north, 'north', 'pattern', pattern);
    await until(async () => (await refusals('north')).shape === 3);
    await expectStanding();
  });

  it('refuses what is too large, and goes on', async () => {
    const large = 'x'.repeat(GROUP_MESSAGE_MOST_BYTES + 1);
    for (let times = 0; times < 20; times += 1) await send(north, 'north', 'alarm', large);
    await until(async () => (await refusals('north')).size === 20);
    // Longer than the session takes at all: the broker drops it.
    await send(north, 'north', 'alarm', large.repeat(3));
    const filled = Array.from({ length: 6000 }, () => alarmOf('north', 1).alarm);
    await send(north, 'north', 'standing', standingOf('north', { alarms: filled }));
    await until(async () => (await refusals('north')).shape === 1);
    await expectStanding();
  });

  it('refuses the one message of many that PostgreSQL cannot hold', async () => {
    const poisoned = [
      { ...alarmOf('north', 1), by: 'a\u0000b' },
      { ...alarmOf('north', 2), by: '\ud800' },
      { ...alarmOf('north', 3), offset: 1e300 },
    ];
    const sound = Array.from({ length: 50 }, (_, index) => alarmOf('north', 100 + index));
    await Promise.all(
      [...sound.slice(0, 25), ...poisoned, ...sound.slice(25)].map((body) =>
        send(north, 'north', 'alarm', body),
      ),
    );
    await until(async () => (await rows("SELECT 1 FROM alarm_change WHERE site = 'north'")).length === 50);
    await until(async () => (await refusals('north')).data === 3);
    await expectStanding();
  });

  it('shows the names that a lab reports as text, cut short, and only its worst alarms among all labs', async () => {
    const { alarm } = alarmOf('north', 1);
    const alarms = Array.from({ length: 40 }, (_, index) => ({
      ...alarm,
      id: `a-${index}`,
      subject: '"><img src=x>',
    }));
    const name = `<script>alert(1)</script>${'n'.repeat(100_000)}`;
    await send(north, 'north', 'standing', standingOf('north', { name, time_zone: '../../etc', alarms }));
    await until(
      async () => (await rows("SELECT 1 FROM lab WHERE standing ->> 'name' LIKE '<script>%'")).length === 1,
    );
    const { body } = await server.inject({ url: '/labs', headers: { cookie } });
    expect(body).not.toMatch(/<script|<img/);
    expect(body.length).toBeLessThan(10_000);
    expect(body).toContain('and 35 more alarms');
    await expectStanding();
  });
});
