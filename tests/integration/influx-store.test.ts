import { once } from 'node:events';
import { mkdtempSync, rmSync } from 'node:fs';
import { createServer, type Server } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gunzipSync } from 'node:zlib';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { openInfluxStore } from '../../collector/store/influx-store.ts';
import { StoreAway } from '../../collector/store/store.ts';
import { openDatabase } from '../../lab/database/database.ts';
import { epochMillis } from '../../wax/units.ts';
import { reading, START, type StoreUnderTest, storeSpecification } from '../store-specification.ts';
import { type Influx, startInflux } from './influx.ts';
import { until } from './until.ts';

const RETRY = { firstMillis: 5, longestMillis: 40 };
let influx: Influx;
let databases = 0;
beforeAll(async () => {
  influx = await startInflux();
});
afterAll(async () => {
  await influx.dispose();
});

interface InfluxUnderTest extends StoreUnderTest {
  readonly databaseName: string;
}

async function open(url?: string): Promise<InfluxUnderTest> {
  const folder = mkdtempSync(join(tmpdir(), 'waxwarden-'));
  const database = openDatabase(join(folder, 'lab.db'));
  databases += 1;
  const databaseName = `lab ${databases}`;
  const setting = { url: url ?? `${influx.url}/${encodeURIComponent(databaseName)}`, site: 'alder-bench' };
  let store = openInfluxStore(database, setting, RETRY);
  let offset = 0;
  return {
    database,
    databaseName,
    store: () => store,
    commit: async (batch) => {
      await store.apply({ readings: [], ruleState: {}, alongside: [], ...batch, offset: offset + 1 });
      offset += 1;
    },
    settled: async () => {
      await until(() => database.writer.prepare('SELECT count(*) FROM influx_unsent').pluck().get() === 0);
    },
    reopen: async () => {
      await store.close();
      store = openInfluxStore(database, setting, RETRY);
    },
    close: async () => {
      await store.close();
      database.close();
      rmSync(folder, { recursive: true });
    },
  };
}

storeSpecification('InfluxDB', open, 12);

describe('the store over InfluxDB', () => {
  const everything = { from: epochMillis(START), to: epochMillis(START + 1e9), limit: 1_000_000 };
  const rows = (from: number, to: number) =>
    Array.from({ length: to - from }, (_, index) => reading('dip-wax', START + (from + index) * 1000, 88.5));

  let refusals = 0;
  const gates: Server[] = [];
  afterEach(() => {
    refusals = 0;
    for (const server of gates.splice(0)) server.close();
  });
  /** Stands before the server: refuses every write while `isRefusing` holds, else hands it on and notes it. */
  const gate = async (
    isRefusing: () => boolean | Promise<boolean>,
    order: string[] = [],
  ): Promise<number> => {
    const server = createServer(async (request, response) => {
      const chunks: Buffer[] = [];
      for await (const chunk of request) chunks.push(chunk);
      if (request.url?.startsWith('/write') === true && (await isRefusing())) {
        refusals += 1;
        response.writeHead(400, { 'content-type': 'application/json' }).end('{"error":"engine: busy"}');
        return;
      }
      const body = Buffer.concat(chunks);
      const answer = await fetch(`${influx.url}${request.url}`, {
        method: request.method ?? 'GET',
        headers: { 'content-encoding': request.headers['content-encoding'] ?? 'identity' },
        ...(body.length > 0 && { body }),
      });
      if (request.url?.startsWith('/write') === true)
        order.push((request.headers['content-encoding'] === 'gzip' ? gunzipSync(body) : body).toString());
      response
        .writeHead(answer.status, { 'content-type': answer.headers.get('content-type') ?? 'text/plain' })
        .end(Buffer.from(await answer.arrayBuffer()));
    }).listen(0, '127.0.0.1');
    await once(server, 'listening');
    gates.push(server);
    const address = server.address();
    return typeof address === 'object' && address !== null ? address.port : 0;
  };

  it('loses nothing while the server is away, over a restart of its own, and reports how much waits', async () => {
    const test = await open();
    await test.commit({ readings: rows(0, 100) });
    await test.settled();
    await influx.stop('SIGKILL');
    for (let batch = 1; batch <= 5; batch += 1)
      await test.commit({ readings: rows(batch * 100, batch * 100 + 100) });
    const away = await until(async () => {
      const health = await test.store().health();
      return health.ok ? null : health;
    });
    expect(away.problems).toMatchObject([
      { code: 'store-away', values: { server: expect.stringContaining(influx.url) } },
      { code: 'readings-waiting', values: { count: 500 } },
    ]);
    await expect(test.store().raw({ ...everything, probe: 'dip-wax' })).rejects.toThrow(StoreAway);
    expect(await test.store().serverRetention?.()).toMatchObject({ keeps: 'unknown', days: null });
    expect(test.store().offset()).toBe(6);
    await test.reopen();
    await influx.start();
    await test.settled();
    expect(await test.store().raw({ ...everything, probe: 'dip-wax' })).toEqual(rows(0, 600));
    expect((await test.store().health()).ok).toBe(true);
    await test.close();
  });

  it('sets aside only the readings that the server refuses, with its reason', async () => {
    const test = await open();
    const day = 86_400_000;
    await influx.ask(`CREATE DATABASE "${test.databaseName}" WITH DURATION 7d NAME "week"`);
    expect(await test.store().serverRetention?.()).toMatchObject({ keeps: 'days', days: 7 });
    const now = Date.now();
    const old = reading('dip-wax', now - 400 * day, 70);
    const fresh = Array.from({ length: 40 }, (_, index) => reading('dip-wax', now - index * 1000, 88));
    await test.commit({ readings: [...fresh.slice(0, 13), old, ...fresh.slice(13)] });
    await test.settled();
    const stored = await test
      .store()
      .raw({ probe: 'dip-wax', from: epochMillis(0), to: epochMillis(now + 1), limit: 100 });
    expect(stored).toHaveLength(40);
    const aside = test.database.writer.prepare('SELECT at, reason FROM influx_refused').all();
    expect(aside).toEqual([{ at: old.at, reason: expect.stringContaining('400') }]);
    expect(await test.store().health()).toMatchObject({ ok: false });
    await test.commit({ readings: [reading('dip-wax', now + 1000, 88)] });
    await test.settled();
    const health = await test.store().health();
    expect(health).toMatchObject({
      ok: false,
      problems: [{ code: 'readings-set-aside', values: { count: 1 } }],
    });
    const [refused] = test.store().setAside?.readings(10) ?? [];
    expect(refused).toMatchObject({ reading: old, reason: expect.stringContaining('400') });
    await influx.ask(`ALTER RETENTION POLICY "week" ON "${test.databaseName}" DURATION INF`);
    expect(await test.store().serverRetention?.()).toMatchObject({ keeps: 'forever', days: null });
    expect(test.store().setAside?.sendAgain()).toBe(1);
    await test.settled();
    await until(async () => (await test.store().health()).ok);
    const mended = await test
      .store()
      .raw({ probe: 'dip-wax', from: epochMillis(0), to: epochMillis(now - day), limit: 100 });
    expect(mended).toEqual([old]);
    await test.close();
  });

  it('sets nothing aside while the server refuses whatever it is sent, and carries all when it mends', async () => {
    let isRefusing = true;
    const test = await open(`http://127.0.0.1:${await gate(() => isRefusing)}/refusing`);
    for (let batch = 0; batch < 20; batch += 1)
      await test.commit({ readings: rows(batch * 100, batch * 100 + 100) });
    await until(() => refusals > 50);
    const health = await test.store().health();
    expect(health.problems).toMatchObject([
      { code: 'store-away', values: { reason: expect.stringContaining('400') } },
      { code: 'readings-waiting', values: { count: 2000 } },
    ]);
    expect(test.store().setAside?.readings(10)).toEqual([]);
    isRefusing = false;
    await test.settled();
    expect(await test.store().raw({ ...everything, probe: 'dip-wax' })).toEqual(rows(0, 2000));
    expect((await test.store().health()).ok).toBe(true);
    await test.close();
  });

  it('carries what comes now before what waited while the server was away', async () => {
    let isRefusing = true;
    const order: string[] = [];
    let release = (): void => {};
    const released = new Promise<void>((done) => {
      release = done;
    });
    let held = 0;
    const refusing = async (): Promise<boolean> => {
      if (isRefusing) return true;
      held += 1;
      await released;
      return false;
    };
    const test = await open(`http://127.0.0.1:${await gate(refusing, order)}/order`);
    for (let batch = 0; batch < 10; batch += 1)
      await test.commit({ readings: rows(batch * 1000, batch * 1000 + 1000) });
    // So often that a whole attempt failed after the last of them came.
    const before = refusals;
    await until(() => refusals > before + 4);
    isRefusing = false;
    await until(() => held > 0);
    await test.commit({ readings: [reading('live', START, 91)] });
    release();
    await test.settled();
    const place = order.findIndex((lines) => lines.includes('probe=live'));
    expect(place).toBeGreaterThan(-1);
    expect(order.slice(place + 1).some((lines) => lines.includes('probe=dip-wax'))).toBe(true);
    await test.close();
  });

  it('answers a long question from the figures of hours, those of before an upgrade too, and counts what comes late', async () => {
    const test = await open();
    const hour = 3_600_000;
    const days = 12;
    const begin = Math.floor(START / hour) * hour;
    const now = epochMillis(begin + days * 24 * hour + 0.5 * hour);
    const all = Array.from({ length: days * 24 * 6 + 3 }, (_, index) =>
      reading('dip-wax', begin + index * 600_000 + 7, 60 + (index % 37) / 16),
    );
    const doubted = all.map((each, index) =>
      index % 50 === 0 ? { ...each, quality: 'suspect' as const } : each,
    );
    await test.commit({ readings: doubted });
    await test.settled();
    const query = {
      probe: 'dip-wax',
      from: epochMillis(begin + 1.4 * hour),
      to: epochMillis(now),
      points: 70,
    };
    const fromReadings = await test.store().buckets(query);
    expect(fromReadings.length).toBeGreaterThan(40);
    const close = (buckets: typeof fromReadings) =>
      buckets.map((bucket) => ({ ...bucket, mean: expect.closeTo(bucket.mean, 9) }));
    // As an upgraded folder is: nothing is due, and what the server has is older than the figures.
    test.database.writer.exec('DELETE FROM influx_hour_due');
    for (let look = 0; look < 4; look += 1) await test.store().tidy(now, () => null);
    expect(await test.store().buckets(query)).toEqual(close(fromReadings));
    const late = reading('dip-wax', begin + 40.3 * hour, 99);
    await test.commit({ readings: [late] });
    await test.settled();
    const withLate = await test.store().buckets(query);
    expect(Math.max(...withLate.map(({ max }) => max))).toBe(99);
    await test.store().tidy(now, () => null);
    expect(await test.store().buckets(query)).toEqual(close(withLate));
    // Only the figures are left of the middle of the span, so they are what is read.
    await influx.ask(
      `DELETE FROM "wax_temperature" WHERE time >= ${begin + 24 * hour}ms AND time < ${begin + 200 * hour}ms`,
      undefined,
      test.databaseName,
    );
    expect(await test.store().buckets(query)).toEqual(close(withLate));
    await test.close();
  });

  it('keeps two sites on one server apart', async () => {
    const test = await open();
    await test.commit({ readings: [reading('dip-wax', START, 88)] });
    await test.settled();
    const second = openInfluxStore(
      test.database,
      { url: `${influx.url}/${encodeURIComponent(test.databaseName)}`, site: 'birch-bench' },
      RETRY,
    );
    expect(await second.raw({ ...everything, probe: 'dip-wax' })).toEqual([]);
    await second.close();
    await test.close();
  });

  it('signs in with user and password, waits while they are wrong, and never shows the password', async () => {
    const guarded = await startInflux({ login: true });
    await guarded.ask(`CREATE USER "collector" WITH PASSWORD 'p@ss:word/1' WITH ALL PRIVILEGES`);
    const address = (password: string) =>
      `${guarded.url.replace('//', `//collector:${encodeURIComponent(password)}@`)}/lab`;
    const wrong = await open(address('wrong-secret'));
    await wrong.commit({ readings: rows(0, 3) });
    const health = await until(async () => {
      const answer = await wrong.store().health();
      return answer.ok ? null : answer;
    });
    expect(health.problems).toMatchObject([
      { code: 'store-away', values: { reason: expect.stringContaining('401') } },
      { code: 'readings-waiting', values: { count: 3 } },
    ]);
    expect(JSON.stringify(health)).not.toContain('secret');
    await wrong.close();
    const right = await open(address('p@ss:word/1'));
    await right.commit({ readings: rows(0, 3) });
    await right.settled();
    expect(await right.store().raw({ ...everything, probe: 'dip-wax' })).toEqual(rows(0, 3));
    await right.close();
    await guarded.dispose();
  });

  it('sends a password without a user as a token, for servers that want one', async () => {
    const authorizations: (string | undefined)[] = [];
    const gate = createServer((request, response) => {
      authorizations.push(request.headers.authorization);
      response.writeHead(401).end();
    }).listen(0, '127.0.0.1');
    await once(gate, 'listening');
    const address = gate.address();
    const port = typeof address === 'object' ? address?.port : null;
    const test = await open(`http://:a-token%3D%3D@127.0.0.1:${port}/lab`);
    await test.commit({ readings: rows(0, 1) });
    await until(() => authorizations.length > 0);
    expect(authorizations[0]).toBe('Token a-token==');
    await test.close();
    gate.close();
  });

  it.each([
    ['a page', 'text/html', '<html>Sign in</html>'],
    ['half an answer', 'application/json', '{"results":[{"statement_id":0,"ser'],
    ['an answer of another program', 'application/json', '{}'],
    ['bytes of no kind', 'application/octet-stream', 'ok'],
  ])(
    'does not take %s, answered with status 200, for no readings or for readings that were taken',
    async (_, type, body) => {
      const front = createServer((_request, response) => {
        response.writeHead(200, { 'content-type': type }).end(body);
      }).listen(0, '127.0.0.1');
      await once(front, 'listening');
      const address = front.address();
      const port = typeof address === 'object' ? address?.port : null;
      const test = await open(`http://127.0.0.1:${port}/lab`);
      await test.commit({ readings: rows(0, 3) });
      await expect(test.store().raw({ ...everything, probe: 'dip-wax' })).rejects.toThrow(StoreAway);
      const health = await until(async () => {
        const found = await test.store().health();
        return found.ok ? null : found;
      });
      expect(health.problems).toMatchObject([
        { code: 'store-away' },
        { code: 'readings-waiting', values: { count: 3 } },
      ]);
      await test.close();
      front.close();
    },
  );

  it('takes a server that is not there yet', async () => {
    const test = await open('http://127.0.0.1:9/lab');
    await test.commit({ readings: rows(0, 2), ruleState: { site: 1 } });
    expect(test.store().ruleState()).toEqual({ site: 1 });
    await until(async () => !(await test.store().health()).ok);
    await test.close();
  });
});
