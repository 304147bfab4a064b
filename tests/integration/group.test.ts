// The group's process on a real PostgreSQL and a real Mosquitto, both of which are stopped under it, and in two copies of
// which one is killed.

import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import fc from 'fast-check';
import { connectAsync, type MqttClient } from 'mqtt';
import pg from 'pg';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import type { GroupMessage } from '../../group/decode.ts';
import { migrate } from '../../group/tables.ts';
import { writeMessages } from '../../group/write.ts';
import { GROUP_PARTITIONS, groupTopic } from '../../lab/group/group-message.ts';
import { groupLinkLab } from './group-link-lab.ts';
import { alarmOf, minuteOf } from './group-messages.ts';
import { type Mosquitto, startMosquitto } from './mosquitto.ts';
import { type Postgres, startPostgres } from './postgres.ts';
import { until } from './until.ts';

const SITES = Array.from({ length: 40 }, (_, index) => `lab-${index}`);
const COUNT_OF_PARTITIONS = `SELECT pid, count(*)::int AS held FROM pg_locks
  WHERE locktype = 'advisory' AND mode = 'ExclusiveLock' AND objsubid = 2 AND granted GROUP BY pid`;

describe('the process of a group', () => {
  let postgres: Postgres;
  let broker: Mosquitto;
  let publisher: MqttClient;
  const copies: ChildProcess[] = [];
  beforeAll(async () => {
    postgres = await startPostgres();
  });
  afterAll(() => postgres.dispose());
  beforeEach(async () => {
    broker = await startMosquitto();
    publisher = await connectAsync(broker.url, { protocolVersion: 5, reconnectPeriod: 50 });
  });
  afterEach(async () => {
    for (const copy of copies.splice(0)) await end(copy, 'SIGKILL');
    publisher.end(true);
    await broker.dispose();
    await postgres.query('DROP SCHEMA public CASCADE');
    await postgres.query('CREATE SCHEMA public');
  });

  const startCopy = (): ChildProcess => {
    const program = ['--disable-warning=ExperimentalWarning', 'dist/group/main.js'];
    const settings = ['--postgres', postgres.url, '--broker', broker.url, '--port', '0'];
    const copy = spawn(process.execPath, [...program, ...settings], {
      stdio: ['ignore', 'ignore', 'inherit'],
    });
    copies.push(copy);
    return copy;
  };
  const end = async (copy: ChildProcess, signal: NodeJS.Signals): Promise<void> => {
    if (copy.exitCode !== null || copy.signalCode !== null) return;
    const ended = once(copy, 'exit');
    copy.kill(signal);
    await ended;
  };
  /** How many partitions each copy holds, fewest first. */
  const held = async (): Promise<readonly number[]> =>
    (await postgres.query<{ held: number }>(COUNT_OF_PARTITIONS))
      .map((row) => row.held)
      .sort((a, b) => a - b);
  const holdsAll = () => until(async () => (await held()).join() === String(GROUP_PARTITIONS));
  /** A broker hands what is published to nobody before the sessions are there. */
  const isSubscribed = async (): Promise<void> => {
    for (const site of SITES)
      await until(async () => {
        await publish(site, 'minute', minuteOf(site, 0, 0));
        return (await rows(`SELECT 1 FROM lab_minute WHERE site = '${site}'`)).length > 0;
      });
  };
  const publish = (site: string, kind: 'alarm' | 'minute', body: object) =>
    publisher.publishAsync(groupTopic(site, kind), JSON.stringify(body), { qos: 1 });
  const rows = (text: string) => postgres.query<Record<string, unknown>>(text);
  const alarmCount = async (): Promise<number> => (await rows('SELECT * FROM alarm_change')).length;

  it('takes what a real lab reports, each once', async () => {
    startCopy();
    await holdsAll();
    const lab = await groupLinkLab('north', Date.UTC(2031, 2, 3, 8));
    lab.start();
    lab.switchOn({ url: broker.url });
    await lab.raiseAndAcknowledge('Ilse Brandt');
    for (let minute = 0; minute < 10; minute += 1) {
      await lab.measure([lab.now(), 60], [lab.now() + 30_000, 62]);
      lab.pass(60_000);
    }
    lab.pass(10_000);
    await until(async () => (await rows('SELECT * FROM lab_minute')).length === 10);
    await until(async () => (await alarmCount()) === 2);
    const [stored] = await rows(
      "SELECT standing #>> '{stations,0,name}' AS name, standing -> 'alarms' AS alarms FROM lab",
    );
    expect(stored).toMatchObject({ name: 'Melt pot', alarms: [{ subject: 'pot-1', acknowledged: true }] });
    await lab.close();
  });

  it('loses nothing and doubles nothing when one copy of two is killed under load', async () => {
    const first = startCopy();
    startCopy();
    await until(async () => (await held()).join() === '8,8');
    await isSubscribed();
    const numbers = Array.from({ length: 30 }, (_, index) => index + 1);
    for (const number of numbers) {
      if (number === 10) first.kill('SIGKILL');
      await Promise.all(SITES.map((site) => publish(site, 'alarm', alarmOf(site, number))));
    }
    await holdsAll();
    await until(async () => (await alarmCount()) >= SITES.length * numbers.length);
    expect(await alarmCount()).toBe(SITES.length * numbers.length);
    const perLab = await rows('SELECT site FROM alarm_change GROUP BY site HAVING count(*) <> 30');
    expect(perLab).toEqual([]);
  });

  it('acknowledges nothing that PostgreSQL has not, and takes it when PostgreSQL is back', async () => {
    startCopy();
    await holdsAll();
    await isSubscribed();
    await postgres.stop();
    for (const site of SITES) await publish(site, 'alarm', alarmOf(site, 1));
    await postgres.start();
    await until(async () => (await alarmCount()) === SITES.length);
  });

  it('keeps what is no message with its reason, and goes on with the others', async () => {
    startCopy();
    await holdsAll();
    await isSubscribed();
    const [site = ''] = SITES;
    const topic = groupTopic(site, 'alarm');
    const broken: readonly (readonly [string, string])[] = [
      ['json', '{'],
      ['version', JSON.stringify({ ...alarmOf(site, 1), version: 2 })],
      ['shape', JSON.stringify({ ...alarmOf(site, 1), at: 5 })],
      ['site', JSON.stringify(alarmOf('elsewhere', 1))],
    ];
    for (const [reason, payload] of broken) {
      await publisher.publishAsync(topic, payload, { qos: 1 });
      await until(
        async () =>
          (await rows(`SELECT 1 FROM refused_message WHERE site = '${site}' AND reason = '${reason}'`))
            .length === 1,
      );
    }
    // A text that JSON allows and PostgreSQL cannot hold.
    await publish(site, 'alarm', { ...alarmOf(site, 2), by: 'a\u0000b' });
    for (const number of [3, 4, 5]) await publish(site, 'alarm', alarmOf(site, number));
    await until(async () => (await alarmCount()) === 3);
    await until(
      async () => Number((await rows('SELECT sum(times) AS times FROM refused_message'))[0]?.times) === 5,
    );
  });

  it('gives a copy that starts later its share, without a gap and without doubles', async () => {
    startCopy();
    await holdsAll();
    await isSubscribed();
    startCopy();
    let number = 0;
    await until(async () => {
      number += 1;
      await Promise.all(SITES.map((site) => publish(site, 'alarm', alarmOf(site, number))));
      return (await held()).join() === '8,8';
    });
    await until(async () => (await alarmCount()) >= SITES.length * number);
    expect(await alarmCount()).toBe(SITES.length * number);
  });

  it('stores the same whatever arrives twice and in whatever order', async () => {
    const client = new pg.Client({ connectionString: postgres.url });
    await client.connect();
    await migrate(client);
    const messages: readonly GroupMessage[] = [
      ...[1, 2, 3].map((offset) => ({
        kind: 'minute' as const,
        body: minuteOf('north', 1, offset, 50 + offset),
      })),
      ...[1, 2].map((number) => ({ kind: 'alarm' as const, body: alarmOf('north', number) })),
    ];
    const anyOrder = fc.array(fc.nat(messages.length - 1), { maxLength: 12 });
    await fc.assert(
      fc.asyncProperty(anyOrder, fc.integer({ min: 1, max: 5 }), async (more, together) => {
        await client.query('TRUNCATE lab_minute, alarm_change');
        const sent = [...more.flatMap((index) => messages[index] ?? []), ...messages];
        for (let from = 0; from < sent.length; from += together)
          await writeMessages(client, sent.slice(from, from + together));
        const minutes = await client.query("SELECT probes #>> '{0,mean_celsius}' AS mean FROM lab_minute");
        expect(minutes.rows).toEqual([{ mean: '53' }]);
        expect((await client.query('SELECT number FROM alarm_change ORDER BY number')).rowCount).toBe(2);
      }),
      { numRuns: 20 },
    );
    await client.end();
  });
});
