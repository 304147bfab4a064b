import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import {
  type Browser,
  PASSWORDS,
  type ServerForTests,
  serverForTests,
} from '../../tests/server-for-tests.ts';
import { celsius, epochMillis } from '../../wax/units.ts';

let test: ServerForTests;
let manager: Browser;
beforeEach(async () => {
  test = await serverForTests();
  manager = await test.manager();
});
afterEach(() => test.close());

const get = async (path: string) => (await manager.send('GET', path)).json();
const HOUR = 3600;
/** Sessions end with time, and set-up demands the password again after half an hour. */
const signInAgain = async () => {
  manager = test.browser();
  await manager.send('POST', '/api/session', { name: 'Mara', password: PASSWORDS.manager });
};
/** One reading a minute for so many hours; the clock moves on with it. */
const measure = async (hours: number, values: Readonly<Record<string, (minute: number) => number>>) => {
  const { store } = test.lab.running;
  const from = test.lab.running.now();
  const readings = Array.from({ length: hours * 60 }, (_, minute) =>
    Object.entries(values).map(([probe, value]) => ({
      probe,
      at: epochMillis(from + minute * 60_000),
      celsius: celsius(value(minute)),
      quality: 'good' as const,
    })),
  ).flat();
  await store.apply({ readings, ruleState: {}, alongside: [], offset: store.offset() + 1 });
  test.lab.pass(hours * HOUR);
  await signInAgain();
};

describe('a broken probe that another takes the place of', () => {
  beforeEach(async () => {
    test.lab.pass(HOUR);
    await measure(1, { 'pot-1-a': () => 70 });
    await test.lab.measure('spare', 21);
  });
  const swap = (by = 'spare') =>
    manager.send('POST', '/api/probes/pot-1-a/replacement', { by, reason: 'cable torn' });

  it('is retired, and the station has the other one from then on', async () => {
    expect((await swap()).json()).toMatchObject({ id: 'spare', station: 'pot-1', claimed: true });
    const probes = await get('/api/probes');
    expect(probes).toContainEqual(
      expect.objectContaining({ id: 'pot-1-a', station: null, claimed: false, retired: true }),
    );
    const lab = await get('/api/lab');
    expect(lab.probes).toContainEqual(expect.objectContaining({ id: 'pot-1-a', retiredOn: '2031-03-03' }));
    expect(await get('/api/audit?limit=2')).toMatchObject([
      { action: 'probe-saved', entityId: 'spare', reason: 'cable torn' },
      { action: 'probe-replaced', entityId: 'pot-1-a', reason: 'cable torn' },
    ]);
  });

  it('leaves its readings in the history of the station, and brings none of elsewhere', async () => {
    const before = test.lab.running.now();
    await measure(1, { spare: () => 21 });
    const swapped = test.lab.running.now();
    await swap();
    await measure(1, { spare: () => 71 });
    const span = `from=${new Date(before - HOUR * 1000).toISOString()}&to=${new Date(test.lab.running.now()).toISOString()}`;
    const { buckets } = await get(`/api/stations/pot-1/readings?${span}`);
    const means = new Set(buckets.map(({ mean }: { mean: number }) => Math.round(mean)));
    expect([...means].sort()).toEqual([70, 71]);
    expect(await get(`/api/stations/pot-1/probes?${span}`)).toEqual([
      { probe: 'pot-1-a', station: 'pot-1', from: null, to: new Date(swapped).toISOString() },
      { probe: 'spare', station: 'pot-1', from: new Date(swapped).toISOString(), to: null },
    ]);
  });

  it('is refused where the other one has a station, where it is not known, and where nothing is replaced', async () => {
    expect((await swap('nowhere')).json()).toMatchObject({ status: 404, code: 'unknown-probe' });
    await manager.send('PUT', '/api/probes/spare', { station: 'shelf-1' });
    expect((await swap()).json()).toMatchObject({ status: 409, code: 'probe-in-use' });
    await manager.send('PUT', '/api/probes/spare', {});
    const answer = await manager.send('POST', '/api/probes/spare/replacement', { by: 'pot-1-a' });
    expect(answer.json()).toMatchObject({ status: 409, code: 'probe-not-in-use' });
  });

  it('is not at a station and retired at once', async () => {
    const answer = await manager.send('PUT', '/api/probes/spare', {
      station: 'shelf-1',
      retiredOn: '2031-03-03',
    });
    expect(answer.json()).toMatchObject({ status: 409, code: 'lab-contradiction' });
  });
});

describe('the battery of a probe', () => {
  it('is shown with the probe as it was last reported, and is null where none was', async () => {
    const at = test.lab.running.now();
    await test.lab.measure('spare', 21);
    const battery = { battery_percent: 12, battery_volts: 2.7, battery_low_volts: null, isBatteryLow: true };
    test.lab.reportStatus('pot-1-a', { at, ...battery, signal_dbm: null });
    const statuses = Object.fromEntries(
      (await get('/api/probes')).map(({ id, status }: { id: string; status: unknown }) => [id, status]),
    );
    expect(statuses).toEqual({
      'pot-1-a': { at: new Date(at).toISOString(), ...battery, signal_dbm: null },
      spare: null,
    });
  });
});

describe('a probe that is forgotten', () => {
  it('must have no station; then the act goes into the journal and the lab describes it no more', async () => {
    await test.lab.measure('pot-1-a', 70);
    expect((await manager.send('DELETE', '/api/probes/pot-1-a')).json()).toMatchObject({
      code: 'probe-in-use',
    });
    test.lab.pass(60);
    await manager.send('PUT', '/api/probes/pot-1-a', {});
    expect((await manager.send('DELETE', '/api/probes/pot-1-a')).json()).toEqual({ forgotten: ['pot-1-a'] });
    expect(test.lab.acts.at(-1)).toMatchObject({ type: 'probes-forgotten', probes: ['pot-1-a'] });
    expect(test.lab.running.lab().probes).toEqual([]);
    expect((await get('/api/probes/pot-1-a/history')).stays).toHaveLength(1);
  });

  it('goes with all others of its gateway that nobody claimed, and those that are retired stay', async () => {
    for (const probe of ['a', 'b', 'old']) await test.lab.measure(probe, 20);
    await manager.send('PUT', '/api/probes/old', { retiredOn: '2031-03-01' });
    const answer = await manager.send('DELETE', '/api/gateways/gw-1/unclaimed-probes');
    expect(answer.json()).toEqual({ forgotten: ['a', 'b'] });
  });

  it('is no matter for a technician', async () => {
    const technician = await test.person(manager, 'technician', 'Tom');
    expect((await technician.send('DELETE', '/api/probes/pot-1-a')).statusCode).toBe(403);
  });
});

describe('how a probe behaves', () => {
  it('is shown with its twins, and with its drift since the day of its calibration', async () => {
    const calibration = {
      day: '2031-03-03',
      points: [
        { reading_celsius: 40, reference_celsius: 40 },
        { reading_celsius: 70, reference_celsius: 70 },
      ],
      reference_uncertainty_celsius: 0.1,
    };
    await manager.send('PUT', '/api/probes/pot-1-a', { station: 'pot-1', calibration });
    await test.lab.measure('pot-1-b', 70);
    await manager.send('PUT', '/api/probes/pot-1-b', { station: 'pot-1', uncertainty_celsius: 0.3 });
    await measure(10, { 'pot-1-a': () => 70, 'pot-1-b': () => 70 });
    test.lab.pass(40 * HOUR);
    await measure(24, { 'pot-1-a': (minute) => (minute === 700 ? 95 : 71.5), 'pot-1-b': () => 70 });
    const behaviour = await get('/api/probes/pot-1-a/behaviour');
    expect(behaviour.health).toMatchObject({ readings: 1440, interval_seconds: 60, spikes: 1, jumps: 0 });
    expect(behaviour.health.newestSpikes).toMatchObject([{ celsius: 95, expected_celsius: 71.5 }]);
    expect(behaviour.twins).toMatchObject([{ probe: 'pot-1-b', allowed_celsius: Math.hypot(0.5, 0.3) }]);
    expect(behaviour.twins[0].meanDifference_celsius).toBeCloseTo(1.5, 1);
    expect(behaviour.drift).toMatchObject({ day: '2031-03-03', then_celsius: 70, now_celsius: 71.5 });
    expect(behaviour.drift.fromTwins[0].change_celsius).toBeCloseTo(1.5, 1);
  });

  it('of one that is silent shows that there was nothing', async () => {
    const { health, twins, drift } = await get('/api/probes/pot-1-a/behaviour');
    expect(health).toMatchObject({ readings: 0, noise_celsius: null });
    expect([twins, drift]).toEqual([[], null]);
  });
});

describe('a stored reading', () => {
  it('is traced back by the correction of its time to what the sensor gave', async () => {
    const sensor = { kind: 'platinum', element: 'pt100', wires: 3 };
    await test.lab.measure('bare', 20);
    await manager.send('PUT', '/api/probes/bare', { correction_celsius: 0.5, sensor });
    test.lab.pass(60);
    await test.lab.measure('bare', 60.5);
    const { at } = await get('/api/probes/bare/origin');
    test.lab.pass(60);
    await manager.send('PUT', '/api/probes/bare', { correction_celsius: 3, sensor });
    const origin = await get(`/api/probes/bare/origin?at=${at}`);
    expect(origin).toMatchObject({
      celsius: 60.5,
      sensor: 'platinum',
      correction: { correction_celsius: 0.5 },
      electrical: { unit: 'Ohm' },
    });
    expect(origin.measured_celsius).toBeCloseTo(60, 6);
    // IEC 60751: 100 Ω · (1 + 3.9083e-3 · 60 − 5.775e-7 · 60²)
    expect(origin.electrical.value).toBeCloseTo(123.2419, 3);
  });

  it('that is not there is reported as missing', async () => {
    expect((await manager.send('GET', '/api/probes/pot-1-a/origin')).json()).toMatchObject({
      errors: [{ code: 'no-reading-then' }],
    });
  });
});
