// Minutes of labs on their way from a real PostgreSQL into a real InfluxDB.

import pg from 'pg';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import type { LastingConnection } from '../../group/lasting-connection.ts';
import { startSeries } from '../../group/series.ts';
import { migrate } from '../../group/tables.ts';
import { writeMessages } from '../../group/write.ts';
import type { MinuteMessage } from '../../lab/group/group-message.ts';
import { minuteOf } from './group-messages.ts';
import { type Influx, startInflux } from './influx.ts';
import { type Postgres, startPostgres } from './postgres.ts';
import { until } from './until.ts';

describe('the series of a group', () => {
  let postgres: Postgres;
  let influx: Influx;
  let client: pg.Client;
  let series: LastingConnection | null = null;
  let databases = 0;
  const logged: string[] = [];
  beforeAll(async () => {
    [postgres, influx] = await Promise.all([startPostgres(), startInflux()]);
    client = new pg.Client({ connectionString: postgres.url });
    await client.connect();
    await migrate(client);
  });
  afterAll(async () => {
    await client.end();
    await influx.dispose();
    await postgres.dispose();
  });
  beforeEach(() => {
    databases += 1;
    logged.length = 0;
  });
  afterEach(async () => {
    await series?.stop();
    series = null;
    await client.query('TRUNCATE lab_minute, refused_message');
  });

  const start = (): LastingConnection => {
    series = startSeries(postgres.url, `${influx.url}/group-${databases}`, (line) => logged.push(line));
    return series;
  };
  const report = (...minutes: readonly MinuteMessage[]) =>
    writeMessages(
      client,
      minutes.map((body) => ({ kind: 'minute' as const, body })),
    );
  const waiting = async (): Promise<number> =>
    (await client.query<{ count: number }>('SELECT count(*)::int FROM lab_minute WHERE NOT in_series'))
      .rows[0]?.count ?? Number.NaN;
  const stored = async (what: string): Promise<readonly (readonly unknown[])[]> => {
    const answer = (await influx.ask(`SELECT ${what} FROM "group-${databases}"..wax_minute`)) as {
      results: { series?: { values: unknown[][] }[] }[];
    };
    return answer.results[0]?.series?.[0]?.values ?? [];
  };

  it('hold every minute with its figures, by lab, station and probe', async () => {
    await report(minuteOf('north', 1, 1), minuteOf('north', 2, 2, 63), minuteOf('south', 1, 1, 70));
    start();
    await until(async () => (await waiting()) === 0);
    const rows = await stored('site, station, probe, min_celsius, mean_celsius, max_celsius, "count"');
    expect(rows.map(([, ...row]) => row)).toEqual(
      expect.arrayContaining([
        ['north', 'pot-1', 'pot-1-a', 59, 60, 61, 6],
        ['north', 'pot-1', 'pot-1-a', 62, 63, 64, 6],
        ['south', 'pot-1', 'pot-1-a', 69, 70, 71, 6],
      ]),
    );
    expect(rows).toHaveLength(3);
  });

  it('hold the new figures of a minute that a lab reports anew', async () => {
    await report(minuteOf('north', 1, 1));
    start();
    await until(async () => (await waiting()) === 0);
    // Instants to the microsecond, as another lab's clock may give them.
    await report({ ...minuteOf('north', 1, 2, 64), sent_at: '2031-02-03T08:00:00.123456Z' });
    await until(async () => (await waiting()) === 0);
    expect((await stored('mean_celsius')).map(([, mean]) => mean)).toEqual([64]);
  });

  it('miss nothing after the server was away, and report once that it is', async () => {
    start();
    await influx.stop();
    await report(...Array.from({ length: 450 }, (_, minute) => minuteOf('north', minute, minute)));
    await until(() => logged.length > 0);
    expect(await waiting()).toBe(450);
    await influx.start();
    await until(async () => (await waiting()) === 0);
    expect(await stored('mean_celsius')).toHaveLength(450);
    expect(logged).toHaveLength(1);
  });

  it('go on past a minute that the server cannot hold, which is kept with the reason', async () => {
    // Beyond what an instant in nanoseconds reaches.
    await report({ ...minuteOf('north', 1, 1), at: '2999-01-01T00:00:00Z' }, minuteOf('north', 2, 2));
    start();
    await until(async () => (await waiting()) === 0);
    expect(await stored('mean_celsius')).toHaveLength(1);
    const { rows } = await client.query('SELECT site, reason FROM refused_message');
    expect(rows).toEqual([{ site: 'north', reason: 'series' }]);
  });

  it('are written by one of two copies at a time, and by the other when that one ends', async () => {
    const first = start();
    await report(minuteOf('north', 1, 1));
    await until(async () => (await waiting()) === 0);
    start();
    await first.stop();
    await report(minuteOf('north', 2, 2));
    await until(async () => (await waiting()) === 0);
    expect(await stored('mean_celsius')).toHaveLength(2);
  });
});
