import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { celsius, epochMillis, MILLIS_PER_DAY } from '../../../wax/units.ts';
import {
  type Browser,
  PASSWORDS,
  type ServerForTests,
  serverForTests,
} from '../../../tests/server-for-tests.ts';
import type { EvidencePlace, EvidenceReport } from '../../api/evidence.ts';
import { noneBeyondKey } from './none-beyond-key.ts';
import type { MonthSheet } from '../../api/month.ts';
import type { TrainingList, TrainingView } from '../../api/training.ts';

/** Monday, 10:00 in Berlin: the time of the clock of the lab for tests. */
const START = Date.parse('2031-03-03T08:00:00Z');
const MINUTE = 60_000;

let served: ServerForTests;
let manager: Browser;
let offset = 0;

const measure = async (
  from: number,
  to: number,
  valueAt: (at: number) => number,
  probe = 'shelf-air',
): Promise<void> => {
  const readings = [];
  for (let at = from; at < to; at += 5 * MINUTE)
    readings.push({ probe, at: epochMillis(at), celsius: celsius(valueAt(at)), quality: 'good' as const });
  offset += 1;
  await served.lab.running.store.apply({ readings, ruleState: {}, alongside: [], offset });
};
const pass = async (seconds: number): Promise<void> => {
  served.lab.pass(seconds);
  await manager.send('POST', '/api/session', { name: 'Mara', password: PASSWORDS.manager });
};
const record = async (query: string): Promise<EvidenceReport> =>
  (await manager.send('GET', `/api/evidence?${query}`)).json<EvidenceReport>();
const shelfOf = (report: EvidenceReport): EvidencePlace => {
  const place = report.places.find(({ station }) => station === 'shelf-1');
  if (place === undefined) throw new Error('the record has no shelf');
  return place;
};
const PROBE = {
  id: 'shelf-air',
  gateway: 'gw-1',
  station: 'shelf-1',
  correction_celsius: 0,
  uncertainty_celsius: 0.2,
};
const saveShelf = (ceiling: number): void => {
  const { repository } = served.lab.running;
  const shelf = repository.lab().stations.find(({ id }) => id === 'shelf-1');
  if (shelf === undefined) throw new Error('the lab for tests has no shelf');
  repository.saveStation({ ...shelf, ceiling_celsius: ceiling });
};

beforeEach(async () => {
  served = await serverForTests({ demo: false });
  served.lab.running.repository.saveProbe(PROBE);
  saveShelf(22);
  offset = served.lab.running.store.offset();
  manager = await served.manager();
});
afterEach(() => served.close());

describe('the record of a span', () => {
  it('holds readings with their extremes and means by day, in the days of the lab’s zone', async () => {
    const peakAt = START + 6 * 3_600_000;
    await measure(START, START + MILLIS_PER_DAY, (at) => (at === peakAt ? 21.5 : 20));
    await pass(86_400);
    const report = await record('from=2031-03-03&to=2031-03-04');
    const { whole, steps } = shelfOf(report);
    expect(report).toMatchObject({
      lab: 'Test lab',
      timeZone: 'Europe/Berlin',
      step: 'day',
      from: '2031-03-02T23:00:00.000Z',
    });
    expect(steps.map(({ from }) => from)).toEqual(['2031-03-02T23:00:00.000Z', '2031-03-03T23:00:00.000Z']);
    expect(whole).toMatchObject({ readings: 288, minCelsius: 20, maxCelsius: 21.5, minutesBeyond: 0 });
    expect(whole.meanKineticCelsius).toBeGreaterThan(20);
    expect(whole.meanKineticCelsius).toBeLessThan(20.1);
    expect(steps[0]?.gapMinutes).toBeCloseTo(9 * 60, 0);
  });

  it('judges each hour by the limit that held in it, though a wider one was set since', async () => {
    await measure(START, START + MILLIS_PER_DAY, (at) => (at - START < 3_600_000 ? 23 : 20));
    await pass(43_200);
    saveShelf(26);
    await pass(43_200);
    saveShelf(30);
    const { limits, beyond, whole } = shelfOf(await record('from=2031-03-03&to=2031-03-04'));
    expect(limits.map(({ storageMax, isRecorded }) => [storageMax?.celsius, isRecorded])).toEqual([
      [22, false],
      [22, true],
      [26, true],
    ]);
    expect(beyond).toEqual([
      {
        from: '2031-03-03T08:00:00.000Z',
        to: '2031-03-03T09:00:00.000Z',
        minutes: 60,
        side: 'above',
        extremeCelsius: 23,
        limitCelsius: 22,
      },
    ]);
    expect(whole.minutesBeyond).toBe(60);
  });

  it('shows a probe as it was found and as it was left, and whose calibration held when', async () => {
    const point = (reading: number, reference: number) => ({
      reading_celsius: reading,
      reference_celsius: reference,
    });
    const entry = { day: '2031-03-03', reference: 'Ref 7', reference_uncertainty_celsius: 0.1 };
    const save = (points: readonly ReturnType<typeof point>[]) =>
      served.lab.running.repository.saveProbe({ ...PROBE, calibration: { ...entry, points } });
    save([point(20, 20.4), point(30, 30.4)]);
    await pass(86_400);
    save([point(20, 20.7), point(30, 30.7)]);
    await measure(START, START + 2 * MILLIS_PER_DAY, () => 20);
    await pass(86_400);
    const { probes } = shelfOf(await record('from=2031-03-03&to=2031-03-05'));
    expect(probes).toHaveLength(2);
    const errors = probes.map(({ certificate }) =>
      certificate?.points.map(({ asFoundErrorCelsius, asLeftErrorCelsius }) => [
        Number(asFoundErrorCelsius.toFixed(3)),
        Number(asLeftErrorCelsius.toFixed(3)) + 0,
      ]),
    );
    expect(errors).toEqual([
      [
        [-0.4, 0],
        [-0.4, 0],
      ],
      [
        [-0.3, 0],
        [-0.3, 0],
      ],
    ]);
    expect(probes[0]?.to).toBe(probes[1]?.from);
  });

  it('holds a station that was removed in the span, with its readings, limits and alarms until then', async () => {
    const { id } = served.lab.raise('over-ceiling', 'shelf-1');
    await measure(START, START + 60 * MINUTE, () => 24);
    await pass(3600);
    expect((await manager.send('DELETE', '/api/stations/shelf-1')).statusCode).toBe(200);
    await pass(86_400);
    for (const query of ['', '&station=shelf-1']) {
      const shelf = shelfOf(await record(`from=2031-03-03&to=2031-03-04${query}`));
      expect(shelf).toMatchObject({ whole: { readings: 12, maxCelsius: 24 }, excursions: [{ id }] });
      expect(shelf.limits.at(-1)?.to).toBe('2031-03-03T09:00:00.000Z');
    }
    const later = await record('from=2031-03-04&to=2031-03-04');
    expect(later.places.map(({ station }) => station)).toEqual(['pot-1']);
  });

  it.each([
    ['nothing was measured', [], 22, 'beyond-unmeasured'],
    ['all of the day was measured', [0, 24], 22, 'beyond-none'],
    ['the first hour alone was measured', [0, 1], 22, 'beyond-gaps'],
    ['a reading went beyond', [0, 24], 19, null],
  ] as const)('says what is known of its limits where %s', async (_, hours, ceiling, said) => {
    saveShelf(ceiling);
    const [first, last] = hours;
    await pass(86_400);
    if (first !== undefined && last !== undefined)
      await measure(START + first * 3_600_000, START + last * 3_600_000, () => 20);
    await measure(START - 9 * 3_600_000, START, () => 20, said === 'beyond-none' ? 'shelf-air' : 'elsewhere');
    const shelf = shelfOf(await record('from=2031-03-03&to=2031-03-03'));
    expect(noneBeyondKey(shelf)).toBe(said === null ? null : `evidence.${said}`);
  });

  it('states that no limit held where none did, also with readings', async () => {
    await measure(START, START + MILLIS_PER_DAY, () => 20);
    await pass(86_400);
    const shelf = shelfOf(await record('from=2031-03-03&to=2031-03-03'));
    const limits = shelf.limits.map((limit) => ({ ...limit, windowLow: null, storageMax: null }));
    expect(noneBeyondKey({ ...shelf, limits })).toBe('evidence.beyond-no-limit');
  });

  it('leaves the time beyond limits empty in the table for a day without readings', async () => {
    await pass(86_400);
    const { body } = await manager.send('GET', '/api/evidence.csv?from=2031-03-03&to=2031-03-03');
    const [head = '', ...lines] = body.split('\r\n');
    const at = head.split(',').indexOf('beyond_minutes');
    const days = lines.filter((line) => line.startsWith('readings-step,shelf-1'));
    expect(days.map((line) => line.split(',')[at])).toEqual(['']);
  });

  it('leaves the month of a station that was removed in it its nights until then', async () => {
    await pass(2 * 86_400);
    expect((await manager.send('DELETE', '/api/stations/shelf-1')).statusCode).toBe(200);
    await pass(86_400);
    const { places } = (await manager.send('GET', '/api/month?month=2031-03')).json<MonthSheet>();
    const shelf = places.find(({ station }) => station === 'shelf-1');
    expect(shelf?.name).toBe('Pattern shelf');
    // Removed in the morning of the 5th, whose night was over.
    expect(shelf?.nights.at(-1)?.date).toBe('2031-03-05');
  });

  it('lists who changed what bears on the place, and leaves other places out', async () => {
    const body = { kind: 'shelf', wax: 'inlay-type-2', ceiling_celsius: 24, reason: 'new maker’s sheet' };
    await manager.send('PUT', '/api/stations/shelf-1', { name: 'Pattern shelf', ...body });
    await manager.send('PUT', '/api/stations/pot-1', { name: 'Pot', kind: 'melt-pot' });
    await pass(60);
    const { changes, auditHead } = await record('from=2031-03-03&to=2031-03-03&station=shelf-1');
    expect(changes).toMatchObject([
      { actor: 'Mara', action: 'station-saved', entityId: 'shelf-1', reason: 'new maker’s sheet' },
    ]);
    expect(auditHead).toMatch(/^[0-9a-f]{64}$/);
    expect((await record('from=2031-03-03&to=2031-03-03')).changes).toHaveLength(2);
  });

  it('has the same digest in every language, and another one after late readings', async () => {
    await measure(START, START + 3_600_000, () => 20);
    await pass(86_400);
    const english = await record('from=2031-03-03&to=2031-03-03&lang=en');
    const german = await record('from=2031-03-03&to=2031-03-03&lang=de&unit=fahrenheit');
    expect(german.figures).toBe(english.figures);
    await measure(START + 3_600_000, START + 3_700_000, () => 21);
    expect((await record('from=2031-03-03&to=2031-03-03')).figures).not.toBe(english.figures);
  });

  it('shows a long span by months', async () => {
    await pass(60 * 86_400);
    const { step, places } = await record('from=2031-03-03&to=2031-04-20&station=shelf-1');
    expect(step).toBe('month');
    expect(places[0]?.steps.map(({ from }) => from)).toEqual([
      '2031-03-02T23:00:00.000Z',
      '2031-03-31T22:00:00.000Z',
    ]);
  });

  it.each([
    ['from=2031-02-31&to=2031-03-01', 'field-not-a-day'],
    ['from=2031-03-02&to=2031-03-01', 'field-span-reversed'],
    ['from=2029-03-02&to=2031-03-01', 'field-span-too-long'],
    ['from=2032-03-02&to=2032-03-03', 'field-in-the-future'],
  ])('refuses %s', async (query, code) => {
    const answer = await manager.send('GET', `/api/evidence?${query}`);
    expect(answer.statusCode).toBe(400);
    expect(answer.json().errors[0].code).toBe(code);
  });

  it('is read by managers alone', async () => {
    const technician = await served.person(manager, 'technician', 'Tom');
    const answer = await technician.send('GET', '/api/evidence?from=2031-03-03&to=2031-03-03');
    expect(answer.statusCode).toBe(403);
  });
});

describe('cause and correction', () => {
  it('are shown on the alarm with who signed them; what was signed before stays to be read', async () => {
    const { id } = served.lab.raise('storage-warm', 'shelf-1');
    const technician = await served.person(manager, 'technician', 'Tom');
    const first = { cause: 'Window open', correction: 'Closed it' };
    const second = { cause: 'Radiator valve stuck', correction: 'Valve replaced' };
    await technician.send('POST', `/api/alarms/${id}/cause`, first);
    await manager.send('POST', `/api/alarms/${id}/cause`, second);
    await pass(60);
    const [excursion] = shelfOf(await record('from=2031-03-03&to=2031-03-03')).excursions;
    expect(excursion?.signed).toMatchObject([
      { ...first, by: 'Tom' },
      { ...second, by: 'Mara' },
    ]);
    const { writer } = served.lab.database;
    expect(() => writer.exec("UPDATE excursion_cause SET by = 'Eve'")).toThrow('never changed');
    expect(() => writer.exec('DELETE FROM excursion_cause')).toThrow('never deleted');
  });

  it('are signed by a person only, and for an alarm that there is', async () => {
    const { id } = served.lab.raise('storage-warm', 'shelf-1');
    const body = { cause: 'x', correction: 'y' };
    const { secret } = (
      await manager.send('POST', '/api/tokens', { name: 'robot', role: 'technician' })
    ).json();
    const robot = served.browser();
    const refused = await robot.send('POST', `/api/alarms/${id}/cause`, body, {
      authorization: `Bearer ${secret}`,
    });
    expect([refused.statusCode, refused.json().code]).toEqual([403, 'person-must-sign']);
    const unknown = await manager.send('POST', '/api/alarms/none/cause', body);
    expect(unknown.json().code).toBe('unknown-alarm');
    const blank = await manager.send('POST', `/api/alarms/${id}/cause`, { cause: '  ', correction: 'y' });
    expect(blank.statusCode).toBe(400);
  });
});

describe('records of training', () => {
  const personId = (): string => served.lab.running.lab().people[0]?.id ?? '';
  const show = (body: object) =>
    manager.send('POST', '/api/training', {
      person: personId(),
      procedure: 'Burns and hot wax',
      day: '2031-03-03',
      ...body,
    });

  it('hold who was shown what by whom; a withdrawn one stays, with its reason', async () => {
    const added = (await show({ edition: '2' })).json<TrainingView>();
    expect(added).toMatchObject({ person: 'Mara', shownBy: 'Mara', edition: '2', withdrawn: null });
    const path = `/api/training/${added.number}/withdraw`;
    await manager.send('POST', path, { reason: 'wrong person' });
    const { people, records } = (await manager.send('GET', '/api/training')).json<TrainingList>();
    expect(people).toEqual([{ id: personId(), name: 'Mara' }]);
    expect(records).toMatchObject([{ withdrawn: { by: 'Mara', reason: 'wrong person' } }]);
    expect((await manager.send('POST', path, { reason: 'again' })).json().code).toBe('already-withdrawn');
    await pass(60);
    expect((await record('from=2031-03-03&to=2031-03-03')).training).toEqual(records);
  });

  it('are refused for a day ahead, for a person that is not there, and cannot be changed', async () => {
    expect((await show({ day: '2031-03-04' })).json().errors[0].code).toBe('field-in-the-future');
    expect((await show({ person: 'nobody' })).json().code).toBe('unknown-person');
    await show({});
    const { writer } = served.lab.database;
    expect(() => writer.exec("UPDATE training SET day = '2030-01-01'")).toThrow('never changed');
    expect(() => writer.exec('DELETE FROM training')).toThrow('never deleted');
  });

  it('of a later day are not in the record of an earlier span', async () => {
    await pass(3 * 86_400);
    await show({ day: '2031-03-05' });
    expect((await record('from=2031-03-03&to=2031-03-04')).training).toEqual([]);
  });
});
