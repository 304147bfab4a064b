import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type Browser, type ServerForTests, serverForTests } from '../../tests/server-for-tests.ts';

describe('lots over the wire', () => {
  let test: ServerForTests;
  let manager: Browser;
  let technician: Browser;
  beforeEach(async () => {
    test = await serverForTests();
    manager = await test.manager();
    technician = await test.person(manager, 'technician', 'Tom');
  });
  afterEach(() => test.close());

  const add = async (body: object = {}) =>
    (
      await technician.send('POST', '/api/lots', {
        wax: 'inlay-type-2',
        maker: ' North Wax ',
        lot: 'X-12045',
        expiresOn: '2031-03-02',
        ...body,
      })
    ).json();
  const pattern = {
    caseReference: 'B 7',
    wax: 'inlay-type-2',
    technique: 'dipped',
    lengthMillimetres: 9,
    toleranceMicrometres: 40,
    station: 'shelf-1',
  };

  it('are recorded, corrected, and marked when their last day is over', async () => {
    const lot = await add();
    expect(lot).toMatchObject({ maker: 'North Wax', recordedBy: 'Tom', isExpired: true, isUsed: false });
    const corrected = await technician.send('PUT', `/api/lots/${lot.id}`, {
      wax: 'inlay-type-2',
      maker: 'North Wax',
      lot: 'X-12046',
      expiresOn: '2031-03-03',
    });
    expect(corrected.json()).toMatchObject({ lot: 'X-12046', isExpired: false });
    expect((await technician.send('GET', '/api/lots')).json()).toHaveLength(1);
    const [trail] = (await manager.send('GET', '/api/audit?entity=lot')).json();
    expect(trail).toMatchObject({ action: 'lot-changed', before: { lot: 'X-12045' } });
  });

  it('are entered afterwards, of the filling or of a top-up, and a recall finds the charge by them', async () => {
    const [first, second] = [await add({ lot: 'A' }), await add({ lot: 'B' })];
    const lotOfAnotherWax = await add({ wax: 'baseplate-hard', lot: 'C' });
    const { id } = (
      await technician.send('POST', '/api/stations/pot-1/charge', { wax: 'inlay-type-2', grams: 200 })
    ).json();
    test.lab.pass(60);
    const { topUps } = (await technician.send('POST', '/api/stations/pot-1/top-up', { grams: 50 })).json();
    const enter = (body: object) => technician.send('PUT', `/api/charges/${id}/lot`, body);
    const shares = (answer: Awaited<ReturnType<typeof enter>>) =>
      answer.json().lots.map(({ lot, share }: { lot: string | null; share: number }) => [lot, share]);
    expect(shares(await enter({ lot: first.id }))).toEqual([
      [first.id, 0.75],
      [null, 0.25],
    ]);
    expect(shares(await enter({ lot: second.id, toppedUpAt: topUps[0].at }))).toEqual([
      [first.id, 0.75],
      [second.id, 0.25],
    ]);
    const recall = (await technician.send('GET', `/api/recall?lot=${second.id}`)).json();
    expect(JSON.stringify(recall)).toContain(id);
    expect((await enter({ lot: null })).json()).toMatchObject({ lot: null });
    expect((await enter({ lot: lotOfAnotherWax.id })).json().errors).toMatchObject([
      { code: 'lot-of-another-wax' },
    ]);
    expect((await enter({ lot: first.id, toppedUpAt: '2031-01-01T00:00:00Z' })).json().errors).toMatchObject([
      { pointer: '/body/toppedUpAt', code: 'no-top-up-then' },
    ]);
    const [trail] = (await manager.send('GET', '/api/audit?entity=station')).json();
    expect(trail).toMatchObject({ action: 'charge-lot-entered', entityId: 'pot-1' });
  });

  it("give the pot with their wax the ceiling of their sheet, which only a manager enters and no sheet's contradiction", async () => {
    const lot = await add();
    await technician.send('POST', '/api/stations/pot-1/charge', {
      wax: 'inlay-type-2',
      grams: 200,
      lot: lot.id,
    });
    const sheet = (values: object, who = manager) => who.send('PUT', `/api/lots/${lot.id}/sheet`, { values });
    expect((await sheet({ ceiling: 84 }, technician)).statusCode).toBe(403);
    expect((await sheet({ ceiling: 10 })).json().code).toBe('lab-contradiction');
    expect((await sheet({ doseAllowance: 10 })).json().code).toBe('lab-contradiction');
    expect((await sheet({ ceiling: 84 })).json().figures.ceiling).toMatchObject({
      value: 84,
      standing: "maker's sheet",
    });
    const pot = (await technician.send('GET', '/api/stations'))
      .json()
      .find(({ id }: { id: string }) => id === 'pot-1');
    expect(pot.ceiling).toMatchObject({ value: 84, source: { text: 'sheet of North Wax, lot X-12045' } });
  });

  it('are found again by one search, in waiting patterns, ended ones and pots', async () => {
    const [first, second] = [await add(), await add({ lot: 'Y-1', maker: 'South Wax' })];
    const charge = (
      await technician.send('POST', '/api/stations/pot-1/charge', {
        wax: 'inlay-type-2',
        grams: 200,
        lot: first.id,
      })
    ).json();
    const make = async (more: object) =>
      (await technician.send('POST', '/api/patterns', { ...pattern, ...more })).json();
    const early = await make({ charge: charge.id });
    test.lab.pass(60);
    await technician.send('POST', '/api/stations/pot-1/top-up', { grams: 50, lot: second.id });
    test.lab.pass(60);
    const late = await make({ charge: charge.id });
    const pack = await make({ lot: second.id });
    await technician.send('POST', `/api/patterns/${late.id}/end`, { fate: 'invested', reason: 'in time' });
    const ask = async (query: string) => (await technician.send('GET', `/api/recall?${query}`)).json();
    const shares = ({ patterns }: { patterns: { id: string; share: number }[] }) =>
      patterns.map(({ id, share }) => [id, share]);
    expect(shares(await ask('text=x12045'))).toEqual([
      [early.id, 1],
      [late.id, 0.75],
    ]);
    const found = await ask(`lot=${second.id}`);
    expect(shares(found)).toEqual([
      [pack.id, 1],
      [late.id, 0.25],
    ]);
    expect(found.patterns).toMatchObject([
      { stationName: 'Pattern shelf', fate: null },
      { stationName: null, fate: { kind: 'invested' } },
    ]);
    expect(found.charges).toMatchObject([{ stationName: 'Melt pot 1', share: 0.25, endedAt: null }]);
    expect((await ask('text=nobody')).lots).toEqual([]);
    expect(late.lots).toMatchObject([
      { name: 'North Wax, X-12045', share: 0.75, isExpired: true },
      { name: 'South Wax, Y-1', share: 0.25 },
    ]);
  });

  it('are removed only while nothing holds their wax, and name a wax that they are of', async () => {
    const lot = await add();
    const refused = await technician.send('POST', '/api/patterns', {
      ...pattern,
      wax: 'sticky',
      lot: lot.id,
    });
    expect(refused.json().errors).toMatchObject([{ pointer: '/body/lot', code: 'lot-of-another-wax' }]);
    expect(
      (await technician.send('POST', '/api/patterns', { ...pattern, charge: 'nothing' })).json().errors,
    ).toMatchObject([{ pointer: '/body/charge', code: 'unknown-charge' }]);
    await technician.send('POST', '/api/patterns', { ...pattern, lot: lot.id });
    expect((await technician.send('DELETE', `/api/lots/${lot.id}`)).json().code).toBe('lot-in-use');
    const change = { wax: 'sticky', maker: 'North Wax', lot: 'X-12045' };
    expect((await technician.send('PUT', `/api/lots/${lot.id}`, change)).json().code).toBe('lot-in-use');
    const unused = await add({ lot: 'mistake' });
    expect((await technician.send('DELETE', `/api/lots/${unused.id}`)).json()).toEqual({ done: true });
    expect((await technician.send('GET', `/api/recall?lot=${unused.id}`)).json().code).toBe('unknown-lot');
  });
});
