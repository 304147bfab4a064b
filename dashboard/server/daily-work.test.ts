import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Browser, ServerForTests } from '../../tests/server-for-tests.ts';
import { epochMillis } from '../../wax/units.ts';
import { serverForTests } from '../../tests/server-for-tests.ts';

describe('charges, patterns and series over the wire', () => {
  let test: ServerForTests;
  let manager: Browser;
  beforeEach(async () => {
    test = await serverForTests();
    manager = await test.manager();
  });
  afterEach(() => test.close());

  it('keeps the charge of a pot: changed, topped up by its share, cleaned, ended by the next', async () => {
    const technician = await test.person(manager, 'technician', 'Tom');
    expect((await technician.send('POST', '/api/stations/pot-1/top-up', { grams: 50 })).json().code).toBe(
      'no-charge',
    );
    expect(
      (await technician.send('POST', '/api/stations/shelf-1/charge', { wax: 'sticky', grams: 1 })).json()
        .code,
    ).toBe('not-a-pot');
    await technician.send('POST', '/api/stations/pot-1/charge', { wax: 'inlay-type-2', grams: 200 });
    test.lab.pass(60);
    const topped = (await technician.send('POST', '/api/stations/pot-1/top-up', { grams: 50 })).json();
    expect(topped.topUps).toEqual([{ at: '2031-03-03T08:01:00.000Z', fraction: 0.25, by: 'Tom', lot: null }]);
    await technician.send('POST', '/api/stations/pot-1/charge', { wax: 'inlay-type-2', grams: 180 });
    const charges = (await technician.send('GET', '/api/charges?station=pot-1')).json();
    expect(charges).toMatchObject([
      { grams: 180, endedAt: null },
      { grams: 200, endedAt: '2031-03-03T08:01:00.000Z' },
    ]);
    expect(test.lab.acts.map((act) => act.type)).toEqual(['charge-changed', 'topped-up', 'charge-changed']);
  });

  it('takes a mistaken top-up and a mistaken change back, newest first, and keeps that on record', async () => {
    const technician = await test.person(manager, 'technician', 'Tom');
    const send = async (verb: string, body: object) =>
      (await technician.send('POST', `/api/stations/pot-1/${verb}`, body)).json();
    const first = await send('charge', { wax: 'inlay-type-2', grams: 200 });
    test.lab.pass(60);
    await send('top-up', { grams: 20 });
    test.lab.pass(60);
    const wrong = await send('charge', { wax: 'sticky', grams: 180 });
    test.lab.pass(60);
    const topped = await send('top-up', { grams: 18 });
    const reason = 'the wrong pot';
    expect((await send('take-back', { id: wrong.id, reason })).code).toBe('nothing-to-take-back');
    expect(topped.newestAct).toMatchObject({ kind: 'topped-up', at: '2031-03-03T08:03:00.000Z' });
    const [lessTopUp] = await send('take-back', { id: topped.newestAct.id, reason });
    expect(lessTopUp).toMatchObject({ id: wrong.id, topUps: [], newestAct: { kind: 'charge-changed' } });
    expect((await send('take-back', { id: topped.newestAct.id, reason })).code).toBe('nothing-to-take-back');
    expect(await send('take-back', { id: wrong.id, reason })).toMatchObject([
      { id: wrong.id, endedAt: '2031-03-03T08:03:00.000Z', takenBack: { by: 'Tom', reason } },
      { id: first.id, endedAt: null, takenBack: null, topUps: [{ fraction: 0.1 }] },
    ]);
    expect(test.lab.acts.slice(-2)).toMatchObject([
      { type: 'charge-taken-back', id: topped.newestAct.id, by: 'Tom' },
      { type: 'charge-taken-back', id: wrong.id, by: 'Tom' },
    ]);
    const [trail] = (await manager.send('GET', '/api/audit')).json();
    expect(trail).toMatchObject({
      action: 'charge-taken-back',
      reason,
      before: { id: wrong.id },
      after: { id: first.id },
    });
  });

  it('offers nothing to take back after a day', async () => {
    const { id } = (
      await manager.send('POST', '/api/stations/pot-1/charge', { wax: 'inlay-type-2', grams: 200 })
    ).json();
    const technician = await test.person(manager, 'technician', 'Tom');
    const charges = async () => (await technician.send('GET', '/api/charges')).json();
    test.lab.pass(24 * 3600);
    expect(await charges()).toMatchObject([{ newestAct: { id, until: '2031-03-04T08:00:00.000Z' } }]);
    test.lab.pass(1);
    expect(await charges()).toMatchObject([{ newestAct: null }]);
  });

  it('takes a top-up that is sent later at the time at which it was done, within a day', async () => {
    const send = async (verb: string, body: object) =>
      (await manager.send('POST', `/api/stations/pot-1/${verb}`, body)).json();
    const charge = { wax: 'inlay-type-2', grams: 200, at: '2031-03-02T08:00:00Z' };
    expect(await send('charge', charge)).toMatchObject({ startedAt: '2031-03-02T08:00:00.000Z' });
    expect(await send('top-up', { grams: 20, at: '2031-03-03T06:30:00Z' })).toMatchObject({
      topUps: [{ at: '2031-03-03T06:30:00.000Z' }],
    });
    expect(test.lab.acts.at(-1)).toMatchObject({ at: Date.parse('2031-03-03T06:30:00Z') });
    for (const [verb, at, code] of [
      ['top-up', '2031-03-03T08:02:01Z', 'field-in-the-future'],
      ['top-up', '2031-03-02T07:59:59Z', 'field-too-old'],
      ['charge', '2031-03-02T07:59:59Z', 'field-too-old'],
    ] as const) {
      const body = verb === 'charge' ? { ...charge, at } : { grams: 20, at };
      expect(await send(verb, body)).toMatchObject({
        status: 400,
        code: 'wrong-request',
        errors: [{ pointer: '/body/at', code }],
      });
    }
    test.lab.pass(180);
    await send('charge', { wax: 'inlay-type-2', grams: 200 });
    expect(await send('top-up', { grams: 20, at: '2031-03-03T08:00:59Z' })).toMatchObject({
      errors: [{ pointer: '/body/at', code: 'field-before-charge' }],
    });
    // Topped up as soon as it was filled, by a clock that runs a little behind.
    expect(await send('top-up', { grams: 20, at: '2031-03-03T08:02:59Z' })).toMatchObject({
      startedAt: '2031-03-03T08:03:00.000Z',
      topUps: [{ at: '2031-03-03T08:03:00.000Z' }],
    });
  });

  it('follows a pattern from the bench to its end', async () => {
    const technician = await test.person(manager, 'technician', 'Tom');
    await manager.send('PUT', '/api/stations/cabinet-1', { name: 'Cabinet', kind: 'cabinet' });
    const facts = {
      caseReference: ' B 7 ',
      wax: 'inlay-type-2',
      technique: 'dipped',
      lengthMillimetres: 28,
      toleranceMicrometres: 40,
    };
    const refused = await technician.send('POST', '/api/patterns', { ...facts, station: 'pot-1' });
    expect(refused.json().code).toBe('not-a-storage-place');
    const made = (await technician.send('POST', '/api/patterns', { ...facts, station: 'shelf-1' })).json();
    expect(made).toMatchObject({
      caseReference: 'B 7',
      station: 'shelf-1',
      madeBy: 'Tom',
      fate: null,
      outlook: null,
    });
    expect(made.id).toMatch(/^[0-9A-Z]{5}$/);
    test.lab.pass(3600);
    const moved = (
      await technician.send('POST', `/api/patterns/${made.id.toLowerCase()}/move`, { station: 'cabinet-1' })
    ).json();
    expect(moved.stays).toEqual([
      { station: 'shelf-1', from: '2031-03-03T08:00:00.000Z', to: '2031-03-03T09:00:00.000Z' },
      { station: 'cabinet-1', from: '2031-03-03T09:00:00.000Z', to: null },
    ]);
    expect(
      (await technician.send('POST', `/api/patterns/${made.id}/end`, { fate: 'remade' })).statusCode,
    ).toBe(400);
    await technician.send('POST', `/api/patterns/${made.id}/end`, {
      fate: 'remade',
      reason: 'margin lifted',
    });
    expect((await technician.send('GET', '/api/patterns')).json()).toEqual([]);
    expect((await technician.send('GET', '/api/patterns?state=all')).json()).toMatchObject([
      { fate: { kind: 'remade', by: 'Tom' } },
    ]);
    expect(
      (await technician.send('POST', `/api/patterns/${made.id}/move`, { station: 'shelf-1' })).json().code,
    ).toBe('pattern-ended');
  });

  it('takes back an end that was a mistake, and a move that is entered late takes effect at its own time', async () => {
    const technician = await test.person(manager, 'technician', 'Tom');
    await manager.send('PUT', '/api/stations/cabinet-1', { name: 'Cabinet', kind: 'cabinet' });
    const facts = {
      caseReference: 'D',
      wax: 'inlay-type-2',
      technique: 'dipped',
      lengthMillimetres: 10,
      toleranceMicrometres: 50,
      station: 'shelf-1',
    };
    const { id } = (await technician.send('POST', '/api/patterns', facts)).json();
    test.lab.pass(3600);
    const move = (station: string, at: string) =>
      technician.send('POST', `/api/patterns/${id}/move`, { station, at });
    const moved = (await move('cabinet-1', '2031-03-03T08:20:00Z')).json();
    expect(moved.stays[1].from).toBe('2031-03-03T08:20:00.000Z');
    const back = (await move('shelf-1', '2031-03-03T23:00:00Z')).json();
    expect(back.stays[2].from).toBe('2031-03-03T09:00:00.000Z');
    await technician.send('POST', `/api/patterns/${id}/end`, { fate: 'discarded', reason: 'dropped' });
    const resumed = await technician.send('POST', `/api/patterns/${id}/resume`, { reason: 'wrong one' });
    expect(resumed.json()).toMatchObject({ fate: null, station: 'shelf-1' });
    expect((await technician.send('GET', '/api/patterns')).json()).toHaveLength(1);
    expect(test.lab.acts.at(-1)).toMatchObject({ type: 'pattern-resumed', reason: 'wrong one', by: 'Tom' });
  });

  it('lays a pattern that was out for a try-in where it lay before, by a move as by an act of the bench', async () => {
    const technician = await test.person(manager, 'technician', 'Tom');
    const facts = { caseReference: 'Ü-4711', wax: 'inlay-type-2', technique: 'dipped' };
    const more = { lengthMillimetres: 10, toleranceMicrometres: 50, station: 'shelf-1' };
    const { id } = (await technician.send('POST', '/api/patterns', { ...facts, ...more })).json();
    const send = async (verb: string, body: object) =>
      (await technician.send('POST', `/api/patterns/${id}/${verb}`, body)).json();
    const stays = (view: { readonly stays: readonly { from: string; to: string | null }[] }) =>
      view.stays.map(({ from, to }) => [from.slice(11, 16), to?.slice(11, 16) ?? null]);
    test.lab.pass(3600);
    expect(stays(await send('acts', { kind: 'sent-for-try-in' }))).toEqual([['08:00', '09:00']]);
    // Ended by mistake and taken back, it is still out.
    test.lab.pass(1800);
    await send('end', { fate: 'discarded', reason: 'mixed up' });
    expect(stays(await send('resume', { reason: 'it was the other one' }))).toEqual([['08:00', '09:00']]);
    test.lab.pass(1800);
    const laid = [
      ['08:00', '09:00'],
      ['10:00', null],
    ];
    expect(stays(await send('move', { station: 'shelf-1' }))).toEqual(laid);
    expect(stays(await send('move', { station: 'shelf-1' }))).toEqual(laid);
    test.lab.pass(3600);
    expect(stays(await send('acts', { kind: 'sent-for-try-in' }))[1]).toEqual(['10:00', '11:00']);
    test.lab.pass(3600);
    expect(stays(await send('acts', { kind: 'seated-on-die' }))[2]).toEqual(['12:00', null]);
  });

  it('answers the dose curve of a charge with the standing of its allowance, and of no charge that is not there', async () => {
    await manager.send('POST', '/api/stations/pot-1/charge', { wax: 'inlay-type-2', grams: 200 });
    const [charge] = (await manager.send('GET', '/api/charges')).json();
    const course = (await manager.send('GET', `/api/charges/${charge.id}/curve`)).json();
    expect(course).toMatchObject({ spentAt: null, cooler: null, outsideHours: null, curve: [] });
    expect(course.allowanceEquivalentHours).toBeGreaterThan(0);
    expect((await manager.send('GET', '/api/charges/none/curve')).json().code).toBe('no-charge');
  });

  it('puts together what a pattern went through from the places where it lay', async () => {
    await manager.send('PUT', '/api/stations/cabinet-1', { name: 'Cabinet', kind: 'cabinet' });
    await test.lab.measure('shelf-a', 21);
    await test.lab.measure('cabinet-a', 30);
    await manager.send('PUT', '/api/probes/shelf-a', { station: 'shelf-1' });
    await manager.send('PUT', '/api/probes/cabinet-a', { station: 'cabinet-1' });
    const facts = {
      caseReference: 'C',
      wax: 'inlay-type-2',
      technique: 'pressed',
      lengthMillimetres: 28,
      toleranceMicrometres: 40,
    };
    const { id } = (await manager.send('POST', '/api/patterns', { ...facts, station: 'shelf-1' })).json();
    test.lab.pass(600);
    await test.lab.measure('shelf-a', 22);
    await test.lab.measure('cabinet-a', 31);
    test.lab.pass(600);
    await manager.send('POST', `/api/patterns/${id}/move`, { station: 'cabinet-1' });
    await test.lab.measure('cabinet-a', 17);
    test.lab.pass(600);
    await test.lab.measure('shelf-a', 40);
    const { buckets } = (await manager.send('GET', `/api/patterns/${id}/readings`)).json();
    expect(buckets.map((point: { mean: number }) => point.mean)).toEqual([21, 22, 17]);
  });

  it('takes the hottest probe of a heater, and the mean of the probes elsewhere', async () => {
    for (const [probe, value] of [
      ['pot-1-a', 70],
      ['pot-1-b', 76],
      ['shelf-a', 20],
      ['shelf-b', 24],
    ] as const)
      await test.lab.measure(probe, value);
    await manager.send('PUT', '/api/probes/pot-1-b', { station: 'pot-1' });
    for (const probe of ['shelf-a', 'shelf-b'])
      await manager.send('PUT', `/api/probes/${probe}`, { station: 'shelf-1' });
    test.lab.pass(1);
    const bucket = async (station: string) =>
      (await manager.send('GET', `/api/stations/${station}/readings?points=10`)).json().buckets;
    expect(await bucket('pot-1')).toMatchObject([{ min: 70, max: 76, mean: 76, count: 2 }]);
    expect(await bucket('shelf-1')).toMatchObject([{ min: 20, max: 24, mean: 22, count: 2 }]);
  });

  it('records what a station is meant to do, shows it until its time, and takes it back', async () => {
    const technician = await test.person(manager, 'technician', 'Tom');
    const say = (kind: string, until?: string) =>
      technician.send('POST', '/api/stations/pot-1/intents', { kind, ...(until && { until }) });
    expect((await say('staying-late-until', '2031-03-03T20:30:00Z')).json()).toEqual({ done: true });
    await say('topping-up');
    await technician.send('DELETE', '/api/stations/pot-1/intents/topping-up');
    expect(test.lab.acts).toMatchObject([
      {
        type: 'intent',
        station: 'pot-1',
        kind: 'staying-late-until',
        by: 'Tom',
        until: Date.UTC(2031, 2, 3, 20, 30),
      },
      { type: 'intent', kind: 'topping-up', until: Date.UTC(2031, 2, 3, 8, 30) },
      { type: 'intent-ended', kind: 'topping-up' },
    ]);
    const trail = (await manager.send('GET', '/api/audit?limit=10')).json();
    expect(JSON.stringify(trail)).toContain('intent-ended');
    const since = epochMillis(Date.UTC(2031, 2, 3, 8));
    const intents = [{ kind: 'cleaning', by: 'Tom', since, until: epochMillis(since + 60_000) }] as const;
    test.lab.stand({ station: 'pot-1', intents });
    const [view] = (await manager.send('GET', '/api/stations')).json();
    expect(view.intents).toEqual([
      { kind: 'cleaning', by: 'Tom', since: '2031-03-03T08:00:00.000Z', until: '2031-03-03T08:01:00.000Z' },
    ]);
  });

  it.each([
    ['staying-late-until', undefined, 'intent-time'],
    ['staying-late-until', '2031-03-03T07:59:00Z', 'intent-time'],
    ['preheat-at', '2031-03-09T05:00:00Z', 'intent-time'],
    ['have-lunch', undefined, 'wrong-request'],
  ])('refuses %s until %s as %s', async (kind, until, code) => {
    const answer = await manager.send('POST', '/api/stations/pot-1/intents', {
      kind,
      ...(until && { until }),
    });
    expect(answer.json()).toMatchObject({ status: 400, code });
    expect(test.lab.acts).toEqual([]);
  });

  it('does an act once that a phone sends again with the same Idempotency-Key', async () => {
    const technician = await test.person(manager, 'technician', 'Tom');
    const load = (key: string, what: string) =>
      technician.send('POST', '/api/stations/pot-1/load-in', { load: what }, { 'idempotency-key': key });
    expect((await load('one', 'sheets')).headers).not.toHaveProperty('idempotency-replayed');
    const again = await load('one', 'sheets');
    expect([again.statusCode, again.json(), again.headers['idempotency-replayed']]).toEqual([
      200,
      { done: true },
      'true',
    ]);
    expect(test.lab.acts).toHaveLength(1);
    expect((await load('one', 'sticks')).json()).toMatchObject({ status: 422, code: 'key-reused' });
    await load('two', 'sheets');
    expect(test.lab.acts).toHaveLength(2);
  });
});
