import type { FastifyInstance } from 'fastify';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { celsius } from '../../wax/units.ts';
import { StoreAway } from '../../collector/store/store.ts';
import { type LabForTests, labForTests } from '../../tests/lab-for-tests.ts';
import { buildServer } from './build-server.ts';

describe('the web server of a demonstration lab', () => {
  let lab: LabForTests;
  let server: FastifyInstance;
  beforeEach(async () => {
    lab = labForTests();
    server = buildServer(lab.running, {
      webRoot: null,
      database: lab.database,
      loopback: true,
      alarmWords: (alarm, _lab, { language }) => ({
        message: `${alarm.rule} (${language})`,
        meaning: 'meaning',
        action: 'action',
        caution: '',
      }),
    });
    await server.ready();
  });
  afterEach(async () => {
    await server.close();
    await lab.close();
  });
  const get = async (url: string, headers: Record<string, string> = {}) => {
    const answer = await server.inject({ method: 'GET', url, headers });
    return { status: answer.statusCode, type: answer.headers['content-type'], body: answer.json() };
  };

  it('reports that all is well, and names the part that is not', async () => {
    expect((await get('/api/health')).body).toMatchObject({
      status: 'ok',
      site: 'test-lab',
      timeZone: 'Europe/Berlin',
      now: '2031-03-03T08:00:00.000Z',
      parts: { store: { ok: true } },
    });
    lab.sicken('store');
    const { status, body } = await get('/api/health');
    expect(status).toBe(200);
    expect(body).toMatchObject({
      status: 'degraded',
      parts: {
        store: {
          ok: false,
          detail: expect.stringContaining('The store at http://store does not answer'),
          problems: [{ code: 'store-away', values: { reason: 'no answer' } }],
        },
      },
    });
    const german = await get('/api/health?lang=de');
    expect(german.body.parts.store.detail).toContain('Der Messwertspeicher http://store antwortet nicht');
  });

  it('gives each station with the figures of its wax, its trend and its alarms', async () => {
    await lab.measure('pot-1-a', 71.25);
    lab.stand({ station: 'pot-1', celsius: 71.25 as never, condition: 'in-window' });
    const alarm = lab.raise('over-ceiling', 'pot-1');
    lab.pass(1);
    const { body } = await get('/api/stations');
    expect(body).toHaveLength(2);
    expect(body[0]).toMatchObject({
      id: 'pot-1',
      isHeater: true,
      wax: { id: 'inlay-type-2' },
      celsius: 71.25,
      uncertaintyCelsius: 0.5,
      alarms: [alarm.id],
      trend: [{ min: 71.25, mean: 71.25, max: 71.25 }],
    });
    expect(body[0].ceiling.standing).not.toBe("lab's own");
    expect(body[1]).toMatchObject({ id: 'shelf-1', condition: 'no-data', celsius: null, windowLow: null });
    expect((await get('/api/stations/pot-1')).body).toEqual(body[0]);
  });

  it('lists a probe that nobody claimed yet beside those of the lab', async () => {
    await lab.measure('new-one', 20);
    expect((await get('/api/probes')).body).toMatchObject([
      { id: 'new-one', claimed: false, station: null, celsius: 20 },
      { id: 'pot-1-a', claimed: true, station: 'pot-1', celsius: null },
    ]);
  });

  it('keeps the extremes of a span in its buckets', async () => {
    for (const value of [70, 95, 60]) {
      await lab.measure('pot-1-a', value);
      lab.pass(10);
    }
    const span = 'from=2031-03-03T08:00:00Z&to=2031-03-03T09:00:00Z&points=1';
    const { body } = await get(`/api/readings?probe=pot-1-a&${span}`);
    expect(body.buckets).toMatchObject([{ min: 60, max: 95, mean: 75, count: 3 }]);
    expect(body.bucketSeconds).toBe(3600);
  });

  it.each([
    ['/api/readings', 400, 'wrong-request'],
    ['/api/readings?probe=pot-1-a&from=yesterday', 400, 'wrong-request'],
    ['/api/readings?probe=pot-1-a&points=0', 400, 'wrong-request'],
    ['/api/readings?probe=pot-1-a&points=100000', 400, 'wrong-request'],
    ['/api/readings?probe=pot-1-a&from=2031-03-03T09:00:00Z&to=2031-03-03T08:00:00Z', 400, 'wrong-request'],
    ['/api/readings?probe=nobody', 404, 'unknown-probe'],
    ['/api/stations/nowhere', 404, 'unknown-station'],
    ['/api/alarms/none', 404, 'unknown-alarm'],
    ['/api/nothing', 404, 'unknown-address'],
    ['/api/alarms?state=closed', 400, 'wrong-request'],
    ['/%', 400, 'wrong-request'],
    [`/api/stations/${'x'.repeat(400)}`, 400, 'wrong-request'],
  ])('answers %s with a problem document', async (url, status, code) => {
    const answer = await get(url);
    expect(answer.type).toContain('application/problem+json');
    expect(answer.status).toBe(status);
    expect(answer.body).toMatchObject({ status, code, type: `/api/#problem-${code}` });
  });

  it('acknowledges an alarm for a visitor without a body, and refuses to do it twice', async () => {
    const { id } = lab.raise('over-ceiling', 'pot-1');
    const post = (body?: object) =>
      server.inject({
        method: 'POST',
        url: `/api/alarms/${encodeURIComponent(id)}/acknowledge`,
        ...(body && { payload: body }),
      });
    const first = await post();
    expect(first.statusCode).toBe(200);
    expect(first.json()).toMatchObject({
      acknowledged: true,
      state: 'acknowledged',
      acknowledgedBy: 'Demo visitor',
    });
    expect((await get('/api/alarms')).body[0].history).toMatchObject([
      { kind: 'raised', by: null },
      { kind: 'acknowledged', by: 'Demo visitor' },
    ]);
    const again = await post({ reason: 'once more' });
    expect(again.statusCode).toBe(409);
    expect(again.json()).toMatchObject({
      code: 'already-acknowledged',
      type: '/api/#problem-already-acknowledged',
    });
  });

  it('acknowledges the raising that was seen, not a newer one', async () => {
    const { id } = lab.raise('left-on', 'pot-1');
    const post = (seenCount: number) =>
      server.inject({
        method: 'POST',
        url: `/api/alarms/${encodeURIComponent(id)}/acknowledge`,
        payload: { seenCount },
      });
    const late = await post(2);
    expect(late.statusCode).toBe(409);
    expect(late.json()).toMatchObject({ code: 'raised-again-since' });
    expect((await post(1)).json()).toMatchObject({ acknowledged: true });
  });

  it('shows the wall without its trend while the store is away, and reports it for readings', async () => {
    await lab.measure('pot-1-a', 71);
    const { store } = lab.running;
    const away = {
      ...store,
      buckets: () =>
        Promise.reject(new StoreAway('store-away', { server: 'http://store', reason: 'no answer' })),
    };
    const second = buildServer(
      { ...lab.running, store: away },
      {
        webRoot: null,
        database: lab.database,
        loopback: true,
        alarmWords: (alarm) => ({ message: alarm.rule, meaning: '', action: '', caution: '' }),
      },
    );
    const stations = await second.inject('/api/stations');
    expect(stations.json()[0]).toMatchObject({ id: 'pot-1', trend: [] });
    const readings = await second.inject('/api/readings?probe=pot-1-a');
    expect(readings.json()).toMatchObject({ status: 503, code: 'store-away' });
    expect(readings.headers['retry-after']).toBe('5');
    await second.close();
  });

  it('shows the state of every station, soon and without its trend, while the store hangs', async () => {
    await lab.measure('pot-1-a', 71);
    lab.stand({ station: 'pot-1', celsius: celsius(71) });
    let asked = 0;
    const hanging = {
      ...lab.running.store,
      buckets: (): Promise<never> => {
        asked += 1;
        return new Promise(() => {});
      },
    };
    const second = buildServer(
      { ...lab.running, store: hanging },
      {
        webRoot: null,
        database: lab.database,
        loopback: true,
        alarmWords: (alarm) => ({ message: alarm.rule, meaning: '', action: '', caution: '' }),
      },
    );
    const answers = await Promise.all([1, 2, 3].map(() => second.inject('/api/stations')));
    for (const answer of answers)
      expect(answer.json()[0]).toMatchObject({ id: 'pot-1', celsius: 71, condition: 'in-window', trend: [] });
    // Screens that load meanwhile put no further load on a store that hangs.
    expect(asked).toBe(1);
    await second.close();
  });

  it('lists the alarms of one station alone on request', async () => {
    lab.raise('over-ceiling', 'pot-1');
    const { id } = lab.raise('storage-warm', 'shelf-1');
    lab.pass(1);
    for (const state of ['open', 'all'])
      expect((await get(`/api/alarms?state=${state}&station=shelf-1`)).body).toMatchObject([
        { id, stationName: 'Pattern shelf' },
      ]);
  });

  it('compresses what is long for who takes it, and not the rest', async () => {
    const ask = (url: string) => server.inject({ method: 'GET', url, headers: { 'accept-encoding': 'br' } });
    expect((await ask('/api/wax-classes')).headers['content-encoding']).toBe('br');
    expect((await ask('/api/session')).headers).not.toHaveProperty('content-encoding');
  });

  it('words alarms in the language that is requested', async () => {
    lab.raise('over-ceiling', 'pot-1');
    expect((await get('/api/alarms', { 'accept-language': 'fr, de;q=0.8' })).body[0].message).toBe(
      'over-ceiling (de)',
    );
    expect((await get('/api/alarms?lang=en', { 'accept-language': 'de' })).body[0].message).toBe(
      'over-ceiling (en)',
    );
  });

  it('shows what is in quarantine with its first bytes', async () => {
    const at = lab.running.now();
    lab.quarantine({
      topic: 'wax/test-lab/gw-1/x/celsius',
      code: 'not-a-number',
      reason: 'The payload is no number.',
      count: 2,
      firstAt: at,
      lastAt: at,
      sample: Buffer.from('warm'),
      bytes: 4,
    });
    expect((await get('/api/quarantine')).body).toMatchObject([
      { count: 2, sampleBase64: 'd2FybQ==', reason: 'The payload is no number.' },
    ]);
  });

  it("words the reason of a row in quarantine in the reader's language, with what was refused", async () => {
    const at = lab.running.now();
    lab.quarantine({
      topic: 'wax/test-lab/gw-1/x/celsius',
      code: 'out-of-range',
      values: { least_celsius: -100, most_celsius: 1372 },
      offending: '4000',
      count: 1,
      firstAt: at,
      lastAt: at,
      sample: Buffer.from('4000'),
      bytes: 4,
    });
    const reasonIn = async (language: string) =>
      (await get('/api/quarantine?limit=1', { 'accept-language': language })).body[0].reason;
    expect(await reasonIn('en')).toContain('between −100.0 °C and 1372.0 °C');
    expect(await reasonIn('de')).toContain('−100,0 °C');
    expect((await get('/api/quarantine?limit=1')).body[0].offending).toBe('4000');
  });

  it('sends the security headers with every answer, refusals included', async () => {
    for (const url of [
      '/api/health',
      '/%61pi/health',
      '/metrics',
      '/nowhere',
      '/%',
      `/api/stations/${'x'.repeat(400)}`,
    ]) {
      const { headers } = await server.inject({ method: 'GET', url });
      expect(headers['x-content-type-options']).toBe('nosniff');
      expect(headers['cache-control']).toBe('no-store');
      expect(headers['content-security-policy']).toContain("frame-ancestors 'none'");
      expect(headers['content-security-policy']).not.toContain('unsafe');
    }
  });
});
