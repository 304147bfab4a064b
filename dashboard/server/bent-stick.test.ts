import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type Browser, type ServerForTests, serverForTests } from '../../tests/server-for-tests.ts';

const HOURS = [0.25, 0.5, 1, 2, 4, 8, 12, 24, 48, 96];
/** 5 mm in the end, τ 12 h at 20 °C, β 0.55, twice as fast every 8 K, read to a hundredth. */
const opening = (celsius: number, hours: number): number =>
  Math.round(500 * (1 - Math.exp(-(((hours * 2 ** ((celsius - 20) / 8)) / 12) ** 0.55)))) / 100;
const stick = (celsius: number) => ({
  celsius,
  openings: HOURS.map((hours) => ({ hours, millimetres: opening(celsius, hours) })),
});
const SOUND = { sticks: [stick(12), stick(20), stick(28)] };
const DOOR = '/api/wax-classes/inlay-type-2/bent-stick';

describe("the lab's own bent-stick test over the wire", () => {
  let test: ServerForTests;
  let manager: Browser;
  beforeEach(async () => {
    test = await serverForTests();
    manager = await test.manager();
  });
  afterEach(() => test.close());

  it('answers values with errors, a verdict and a curve for each stick, and changes nothing', async () => {
    const before = test.lab.running.lab();
    const view = (await manager.send('POST', DOOR, SOUND)).json();
    expect(view).toMatchObject({ verdict: 'fixed', doubts: [], applied: false, referenceCelsius: 20 });
    expect(Math.abs(view.tauHours.value - 12)).toBeLessThan(0.5);
    expect(view.tauHours.standardError).toBeGreaterThan(0);
    expect(Math.abs(view.beta.value - 0.55)).toBeLessThan(0.02);
    expect(view.curves.map(({ celsius }: { celsius: number }) => celsius)).toEqual([12, 20, 28]);
    expect(view.residuals).toHaveLength(30);
    expect(test.lab.running.lab()).toEqual(before);
  });

  it('puts the values in as the lab’s own beside the others, with who, why and from which readings', async () => {
    await manager.send('PUT', '/api/wax-classes/inlay-type-2/overrides', { values: { ceiling: 88 } });
    const answer = await manager.send('POST', DOOR, { ...SOUND, apply: true, reason: 'test of March' });
    expect(answer.json()).toMatchObject({ applied: true });
    const classes: readonly { id: string; figures: Record<string, { value: number; standing: string }> }[] = (
      await manager.send('GET', '/api/wax-classes')
    ).json();
    const figures = classes.find(({ id }) => id === 'inlay-type-2')?.figures ?? {};
    expect(figures.ceiling).toMatchObject({ value: 88, standing: "lab's own" });
    expect(figures['relaxation.tau']).toMatchObject({ standing: "lab's own" });
    expect(figures['relaxation.tau']?.value).toBeCloseTo(answer.json().tauHours.value * 3600, 6);
    const trail = JSON.stringify((await manager.send('GET', '/api/audit')).json());
    expect(trail).toContain('bent-stick-applied');
    expect(trail).toContain('test of March');
  });

  it('refuses to put in what the readings do not fix, names the doubts and changes nothing', async () => {
    const before = test.lab.running.lab();
    const near = { sticks: [stick(20), stick(21)] };
    const seen = (await manager.send('POST', DOOR, near)).json();
    expect(seen.verdict).toBe('not-fixed');
    expect(seen.doubts).toContain('temperatures-too-close');
    const refused = await manager.send('POST', DOOR, { ...near, apply: true });
    expect(refused.json()).toMatchObject({ status: 409, code: 'calibration-not-fixed' });
    expect(test.lab.running.lab()).toEqual(before);
  });

  it.each([
    { what: 'no stick', body: { sticks: [] }, code: 'too-few-readings' },
    {
      what: 'a stick below absolute zero',
      body: { sticks: [{ ...stick(20), celsius: -300 }, stick(28)] },
      code: 'not-a-temperature',
    },
    {
      what: 'readings out of order',
      body: { sticks: [{ ...stick(20), openings: stick(20).openings.toReversed() }, stick(28)] },
      code: 'times-unsorted',
    },
    { what: 'an error of a reading of nought', body: { ...SOUND, readingError: 0 }, code: 'bad-uncertainty' },
  ])('refuses $what as $code', async ({ body, code }) => {
    expect((await manager.send('POST', DOOR, body)).json()).toMatchObject({ status: 409, code });
  });

  it('is for those who set the lab up', async () => {
    const technician = await test.person(manager, 'technician', 'Ines');
    expect((await technician.send('POST', DOOR, SOUND)).json()).toMatchObject({ code: 'not-allowed' });
  });
});
