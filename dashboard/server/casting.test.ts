import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type Browser, type ServerForTests, serverForTests } from '../../tests/server-for-tests.ts';

describe('investing and casting over the wire', () => {
  let test: ServerForTests;
  let manager: Browser;
  let technician: Browser;
  beforeEach(async () => {
    test = await serverForTests();
    manager = await test.manager();
    technician = await test.person(manager, 'technician', 'Tom');
  });
  afterEach(() => test.close());

  const change = (percent: number) => ({ percent, uncertainty_percent: 0.1 });
  const make = async () =>
    (
      await technician.send('POST', '/api/patterns', {
        caseReference: 'B 7',
        wax: 'inlay-type-2',
        technique: 'dipped',
        lengthMillimetres: 9,
        toleranceMicrometres: 40,
        station: 'shelf-1',
      })
    ).json();

  it('keeps the lot of a powder that somebody else recorded after the hand-over was read', async () => {
    const { id } = await make();
    const { etag = '' } = (await manager.send('GET', `/api/patterns/${id}`)).headers;
    const path = `/api/patterns/${id}/casting`;
    expect((await technician.send('PUT', path, { powder_lot: 'P-7' })).statusCode).toBe(200);
    const save = (casting: object) => manager.send('PUT', path, casting, { 'if-match': etag });
    expect((await save({ ring: '3X' })).json()).toMatchObject({
      status: 409,
      code: 'changed-meanwhile',
      values: { name: 'Tom' },
    });
    expect((await manager.send('GET', `/api/patterns/${id}`)).json().casting).toEqual({ powder_lot: 'P-7' });
  });

  it("keeps the lab's own alloys and investments, which only a manager enters", async () => {
    const alloy = { kind: 'alloy', name: 'Gold of the lab', shrinkage: change(1.48) };
    const path = '/api/casting-materials/gold-of-the-lab';
    expect((await technician.send('PUT', path, alloy)).statusCode).toBe(403);
    expect((await manager.send('PUT', path, alloy)).json()).toEqual({ id: 'gold-of-the-lab', ...alloy });
    expect((await manager.send('PUT', path, { kind: 'alloy', name: 'Gold' })).statusCode).toBe(400);
    expect((await technician.send('GET', '/api/casting-materials')).json()).toHaveLength(1);
    expect((await manager.send('DELETE', path)).json()).toEqual({ done: true });
    expect((await manager.send('DELETE', path)).json().code).toBe('unknown-casting-material');
  });

  it('records the hand-over with the pattern, and refuses what neither table nor lab has', async () => {
    const { id } = await make();
    const casting = {
      alloy: 'gold-type-3',
      investment: 'phosphate-bonded',
      powder_lot: 'P-7',
      liquid_lot: 'L-3',
      powder_grams: 100,
      liquid_millilitres: 24,
      concentrate_percent: 60,
      ring: '3X',
      set_minutes: 20,
    };
    const path = `/api/patterns/${id}/casting`;
    expect((await technician.send('PUT', path, casting)).json().casting).toEqual(casting);
    expect((await technician.send('GET', `/api/patterns/${id}`)).json().casting).toEqual(casting);
    expect((await technician.send('PUT', path, { alloy: 'chocolate' })).json().errors).toMatchObject([
      { pointer: '/body/alloy', code: 'unknown-casting-material' },
    ]);
    expect((await technician.send('PUT', path, { furnace: 'nowhere' })).json().errors).toMatchObject([
      { pointer: '/body/furnace', code: 'unknown-station' },
    ]);
    expect((await technician.send('PUT', path, { powder_grams: -1 })).statusCode).toBe(400);
  });

  it('holds the soak of the programme against what the furnace measured since it was invested', async () => {
    const { running } = test.lab;
    running.repository.saveStation({ id: 'furnace', name: 'Furnace', kind: 'burnout-furnace', wax: null });
    const probe = { gateway: 'gw-1', correction_celsius: 0, uncertainty_celsius: 2 };
    running.repository.saveProbe({ id: 'furnace-a', station: 'furnace', ...probe });
    const { id } = await make();
    const burnout = async () => (await technician.send('GET', `/api/patterns/${id}/burnout`)).json();
    expect((await burnout()).state).toBe('no-programme');
    const programme = { furnace: 'furnace', hold_celsius: 700, hold_minutes: 30, ramp_celsius_per_hour: 600 };
    await technician.send('PUT', `/api/patterns/${id}/casting`, programme);
    expect((await burnout()).state).toBe('not-invested');
    await technician.send('POST', `/api/patterns/${id}/end`, { fate: 'invested', reason: 'in time' });
    expect((await burnout()).state).toBe('no-readings');
    const heat = async (minutes: number) => {
      for (let minute = 0; minute < minutes; minute += 1) {
        test.lab.pass(60);
        const passed = (running.now() - running.startedAt) / 60_000;
        await test.lab.measure('furnace-a', Math.min(705, 20 + 9 * passed));
      }
    };
    await heat(90);
    expect((await burnout()).state).toBe('short');
    await heat(30);
    expect(await burnout()).toMatchObject({ state: 'held', peakCelsius: 705, isTooSteep: false });
    await technician.send('PUT', `/api/patterns/${id}/casting`, { ...programme, ramp_celsius_per_hour: 500 });
    expect(await burnout()).toMatchObject({ state: 'held', isTooSteep: true });
    const steps_before = [{ hold_celsius: 270, hold_minutes: 30, ramp_celsius_per_hour: 300 }];
    await technician.send('PUT', `/api/patterns/${id}/casting`, { ...programme, steps_before });
    const { state, steps } = await burnout();
    // It went straight through 270 °C to the soak.
    expect([state, ...steps.map((step: { state: string }) => step.state)]).toEqual([
      'short',
      'short',
      'held',
    ]);
    const wrong = [{ hold_celsius: 270 }];
    const refused = await technician.send('PUT', `/api/patterns/${id}/casting`, { steps_before: wrong });
    expect(refused.json().errors).toMatchObject([{ pointer: '/body/steps_before/0/hold_minutes' }]);
  });
});
