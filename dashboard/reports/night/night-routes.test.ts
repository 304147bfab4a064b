import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { heats } from '../../../lab/station-kinds.ts';
import type { Pattern } from '../../../lab/pattern.ts';
import { celsius, epochMillis } from '../../../wax/units.ts';
import {
  type Browser,
  PASSWORDS,
  type ServerForTests,
  serverForTests,
} from '../../../tests/server-for-tests.ts';
import type { MonthSheet } from '../../api/month.ts';
import type { NightSheet } from '../../api/night.ts';

const day = [['07:30', '17:30']] as const;
/** Friday's closing and Monday's opening in Berlin, in winter. */
const CLOSED = Date.parse('2031-02-28T16:30:00Z');
const OPENS = Date.parse('2031-03-03T06:30:00Z');
const STEP = 5 * 60_000;

const PATTERN: Pattern = {
  id: 'AB3CD',
  caseReference: 'Crown 26, "Ünal"',
  wax: 'inlay-type-2',
  technique: 'layered',
  length_millimetres: 9,
  tolerance_micrometres: 60,
  madeAt: '2031-02-28T15:00:00.000Z',
  madeBy: 'Mara',
  stays: [{ station: 'shelf-1', from: '2031-02-28T15:00:00.000Z', to: null }],
  fate: null,
};

let served: ServerForTests;
let manager: Browser;
let offset = 0;

const measureNight = async (probe: string, valueAt: (minute: number) => number | null): Promise<void> => {
  const readings = [];
  for (let at = CLOSED - 24 * STEP; at < OPENS + 12 * STEP; at += STEP) {
    const value = valueAt((at - CLOSED) / 60_000);
    if (value !== null)
      readings.push({ probe, at: epochMillis(at), celsius: celsius(value), quality: 'good' as const });
  }
  offset += 1;
  await served.lab.running.store.apply({ readings, ruleState: {}, alongside: [], offset });
};

/** A manager's session ends after half a day of rest. */
const passAndSignIn = async (seconds: number): Promise<void> => {
  served.lab.pass(seconds);
  await manager.send('POST', '/api/session', { name: 'Mara', password: PASSWORDS.manager });
};

const sheet = async (query = ''): Promise<NightSheet> =>
  (await manager.send('GET', `/api/night${query}`)).json<NightSheet>();

beforeEach(async () => {
  served = await serverForTests({ demo: false });
  const { repository } = served.lab.running;
  repository.saveSite({
    ...repository.lab().site,
    workingHours: { mon: day, tue: day, wed: day, thu: day, fri: day, sat: [], sun: [] },
  });
  repository.saveProbe({
    id: 'shelf-air',
    gateway: 'gw-1',
    station: 'shelf-1',
    correction_celsius: 0,
    uncertainty_celsius: 0.2,
  });
  repository.savePattern(PATTERN);
  offset = served.lab.running.store.offset();
  manager = await served.manager();
  await measureNight('shelf-air', () => 20);
  await measureNight('pot-1-a', (minute) => Math.max(21, 75 - minute / 2));
});
afterEach(() => served.close());

describe('the night sheet', () => {
  it('of an old night keeps its verdict and its signature when a limit is changed later', async () => {
    const before = await sheet('?date=2031-03-03');
    await manager.send('POST', '/api/night/2031-03-03/sign', { figures: before.figures });
    await passAndSignIn(36 * 3600);
    const { repository } = served.lab.running;
    const shelf = repository.lab().stations.find(({ id }) => id === 'shelf-1');
    if (shelf === undefined) throw new Error('the lab for tests has no shelf');
    repository.saveStation({ ...shelf, ceiling_celsius: 15 });
    repository.saveWaxOverride('inlay-type-2', { storageMax: 14 });
    const after = await sheet('?date=2031-03-03');
    expect(after.places).toEqual(before.places);
    expect(after.patterns[0]?.verdict).toBe('may-be-invested');
    expect(after.signatures).toMatchObject([{ by: 'Mara', holds: true }]);
  });

  it('answers the weekend as one night, with its place, its pattern and its heaters', async () => {
    const night = await sheet();
    expect(night).toMatchObject({
      date: '2031-03-03',
      from: new Date(CLOSED).toISOString(),
      opens: new Date(OPENS).toISOString(),
      isOver: true,
      counts: { mayBeInvested: 1, check: 0, remake: 0 },
      // It may be invested, and should have been.
      seeTo: [{ what: 'overdue', text: expect.stringMatching(/^Overdue; may still be invested: AB3CD/) }],
    });
    expect(night.places).toHaveLength(1);
    expect(night.places[0]).toMatchObject({
      station: 'shelf-1',
      verdict: 'may-be-invested',
      patterns: ['AB3CD'],
    });
    expect(night.places[0]?.figures.meanKineticCelsius).toBeCloseTo(20, 9);
    expect(night.heaters[0]).toMatchObject({ station: 'pot-1', leftOn: false });
    expect(await sheet('?date=2031-03-01')).toEqual(night);
  });
  it('names a pattern once in what is to be done, although its alarm is open too', async () => {
    served.lab.raise('pattern-due', PATTERN.id);
    await passAndSignIn(24 * 3600);
    const night = await sheet('?date=2031-03-04');
    expect(night.alarms.map(({ rule }) => rule)).toContain('pattern-due');
    expect(night.seeTo.map(({ what }) => what)).not.toContain('alarm');
  });
  it('advises a check of the fit by generic figures, never a remake, and gives the reason in the reader’s language', async () => {
    served.lab.running.repository.savePattern({ ...PATTERN, tolerance_micrometres: 5 });
    const night = await sheet('?lang=de');
    expect(night.patterns[0]).toMatchObject({ verdict: 'check', asOf: new Date(OPENS).toISOString() });
    expect(night.patterns[0]?.reasons[0]?.text).toMatch(
      /^Erst prüfen: vorhergesagter Fehler \d+ µm .* zulässig 5 µm\. Passung auf dem Stumpf prüfen/,
    );
    expect(night.seeTo[0]).toMatchObject({
      what: 'check',
      text: expect.stringContaining('Erst prüfen: vorher'),
    });
  });
  it('advises a remake where the gap was measured and is over the tolerance', async () => {
    const seated = { id: 's1', kind: 'seated' as const, by: 'Mara', gap_micrometres: 130 };
    const at = '2031-03-01T09:00:00.000Z';
    served.lab.running.repository.savePattern({ ...PATTERN, acts: [{ ...seated, at, recordedAt: at }] });
    expect((await sheet()).patterns[0]).toMatchObject({
      verdict: 'remake',
      reasons: [{ code: 'measured-misfit' }],
    });
  });
  it('advises a look where nothing was measured', async () => {
    const night = await sheet('?date=2031-02-27');
    expect(night.places[0]).toMatchObject({ verdict: 'check', figures: { readings: 0, minCelsius: null } });
    expect(night.places[0]?.reasons.map(({ code }) => code)).toEqual(['no-readings']);
    expect(night.patterns).toEqual([]);
  });
  it('finds no gap at a probe that reported for the first time after the night', async () => {
    const trusted = { gateway: 'gw-1', station: 'shelf-1', correction_celsius: 0, uncertainty_celsius: 0.5 };
    for (const id of ['never', 'since-today'])
      served.lab.running.repository.saveProbe({ id: `shelf-1-${id}`, ...trusted });
    await served.lab.measure('shelf-1-since-today', 22);
    expect((await sheet()).probes.map(({ probe }) => probe)).toEqual(['shelf-1-never']);
  });
  it('lists a heater that stayed hot', async () => {
    served.lab.running.repository.saveProbe({
      id: 'pot-1-b',
      gateway: 'gw-1',
      station: 'pot-1',
      correction_celsius: 0,
      uncertainty_celsius: 0.5,
    });
    await measureNight('pot-1-b', (minute) => (minute < 300 ? 78 : 22));
    const pot = (await sheet()).heaters[0];
    expect(pot).toMatchObject({ leftOn: true, minutesHot: 300, maxCelsius: 78 });
  });
  it('keeps what people did to its alarms', async () => {
    const alarm = served.lab.raise('storage-warm', 'shelf-1');
    await manager.send('POST', `/api/alarms/${encodeURIComponent(alarm.id)}/acknowledge`, {});
    await passAndSignIn(24 * 3600);
    const [line] = (await sheet('?date=2031-03-04')).alarms;
    expect(line?.acts.map(({ kind, by }) => [kind, by])).toEqual([['acknowledged', 'Mara']]);
  });
  it.each([
    ['?date=2031-03-05', 404, 'night-ahead'],
    ['?date=2031-02-31', 400, 'wrong-request'],
    ['?date=yesterday', 400, 'wrong-request'],
  ])('refuses %s', async (query, status, code) => {
    const answer = await manager.send('GET', `/api/night${query}`);
    expect([answer.statusCode, answer.json<{ code: string }>().code]).toEqual([status, code]);
  });
});

describe('notes and signatures', () => {
  it('are kept with who and when, and are in the audit trail', async () => {
    await manager.send('POST', '/api/night/2031-03-03/note', { text: '  Fit checked.  ' });
    const { figures } = await sheet();
    await manager.send('POST', '/api/night/2031-03-03/sign', { figures });
    const night = await sheet();
    expect(night.notes.map(({ by, text }) => [by, text])).toEqual([['Mara', 'Fit checked.']]);
    expect(night.signatures.map(({ by, holds }) => [by, holds])).toEqual([['Mara', true]]);
    const audit = (await manager.send('GET', '/api/audit?entity=night')).json<{ action: string }[]>();
    expect(audit.map(({ action }) => action)).toEqual(['night-signed', 'night-noted']);
  });
  it('hold when a battery is low since, which the sheet shows', async () => {
    const { figures } = await sheet();
    await manager.send('POST', '/api/night/2031-03-03/sign', { figures });
    served.lab.reportStatus('shelf-air', {
      at: epochMillis(OPENS),
      battery_percent: 9,
      isBatteryLow: true,
      signal_dbm: -80,
      battery_volts: null,
      battery_low_volts: null,
    });
    const night = await sheet();
    expect(night.probes.find(({ probe }) => probe === 'shelf-air')?.reasons.at(-1)).toMatchObject({
      code: 'probe-battery',
      text: 'Its battery is at 9%: change it.',
    });
    expect(night.seeTo.map(({ text }) => text).join()).toContain('shelf-air');
    expect(night.signatures[0]?.holds).toBe(true);
    served.lab.reportStatus('shelf-air', {
      at: epochMillis(OPENS),
      battery_percent: null,
      isBatteryLow: true,
      signal_dbm: null,
      battery_volts: 2.85,
      battery_low_volts: 2.9,
    });
    const line = (await sheet()).probes.find(({ probe }) => probe === 'shelf-air');
    expect(line?.reasons.at(-1)?.text).toBe('Its battery is at 2.85 V, low from 2.90 V down: change it.');
  });

  it('show when late readings changed the figures that were signed', async () => {
    const { figures } = await sheet();
    await manager.send('POST', '/api/night/2031-03-03/sign', { figures });
    offset += 1;
    await served.lab.running.store.apply({
      readings: [
        { probe: 'shelf-air', at: epochMillis(CLOSED + 1000), celsius: celsius(24), quality: 'good' },
      ],
      ruleState: {},
      alongside: [],
      offset,
    });
    expect((await sheet()).signatures[0]?.holds).toBe(false);
    const again = await manager.send('POST', '/api/night/2031-03-03/sign', { figures });
    expect([again.statusCode, again.json<{ code: string }>().code]).toEqual([409, 'sheet-changed']);
  });
  it('are the same figures in every language and unit', async () => {
    expect((await sheet('?lang=de&unit=fahrenheit')).figures).toBe((await sheet()).figures);
  });
  it('can be given once, and only when the night is over', async () => {
    const { figures } = await sheet();
    await manager.send('POST', '/api/night/2031-03-03/sign', { figures });
    const again = await manager.send('POST', '/api/night/2031-03-03/sign', { figures });
    expect(again.json<{ code: string }>().code).toBe('already-signed');
    await passAndSignIn(12 * 3600);
    const early = await manager.send('POST', '/api/night/2031-03-04/sign', { figures: 'a'.repeat(64) });
    expect(early.json<{ code: string }>().code).toBe('night-not-over');
  });
  it('are not for viewers', async () => {
    const viewer = await served.person(manager, 'viewer', 'Vera');
    expect((await viewer.send('POST', '/api/night/2031-03-03/note', { text: 'x' })).statusCode).toBe(403);
    expect((await viewer.send('GET', '/api/night')).statusCode).toBe(200);
  });
});

describe('the tables', () => {
  it('hold the figures of the sheet, quoted as RFC 4180 demands', async () => {
    const answer = await manager.send('GET', '/api/night.csv');
    expect(answer.headers['content-type']).toContain('text/csv');
    const lines = answer.body.replace('\u{feff}', '').split('\r\n');
    expect(lines[0]).toMatch(/^night,from,to,what,id,name,verdict,reason,min_celsius/);
    expect(lines.find((line) => line.includes('AB3CD'))).toContain('"Crown 26, ""Ünal"""');
  });
  it('separate by semicolons and write decimals with commas where that is chosen', async () => {
    const byCommas = (await manager.send('GET', '/api/night.csv')).body;
    const bySemicolons = (await manager.send('GET', '/api/night.csv?separators=semicolon')).body;
    expect(bySemicolons.split('\r\n')[0]).toContain('night;from;to;what');
    const [decimal = ''] = byCommas.match(/\d+\.\d+(?=,)/) ?? [];
    expect(decimal).not.toBe('');
    expect(bySemicolons).toContain(`;${decimal.replace('.', ',')};`);
  });
  it('hold the alarms with who acknowledged them and when, and the notes', async () => {
    await passAndSignIn(12 * 3600);
    const alarm = served.lab.raise('storage-warm', 'shelf-1');
    served.lab.pass(14 * 60);
    await manager.send('POST', `/api/alarms/${alarm.id}/acknowledge`, {});
    const { date } = await sheet('?date=2031-03-04');
    await manager.send('POST', `/api/night/${date}/note`, { text: 'Door was ajar' });
    const lines = (await manager.send('GET', `/api/night.csv?date=${date}`)).body.split('\r\n');
    expect(lines.find((line) => line.includes(',note,'))).toContain('Door was ajar');
    expect(lines.find((line) => line.includes(',alarm,') && line.includes(alarm.id))).toMatch(/,Mara,14,$/);
  });
  it('start no formula in a spreadsheet', async () => {
    served.lab.running.repository.savePattern({ ...PATTERN, caseReference: '=2+5' });
    expect((await manager.send('GET', '/api/night.csv')).body).toContain(",'=2+5,");
  });
  it.each([
    ['comma', 'A;=2+5', "A;'=2+5"],
    ['semicolon', 'A,=2+5', "A,'=2+5"],
    ['comma', 'A\t@SUM(1)', "A\t'@SUM(1)"],
    ['comma', 'A; -5 is a blank more', 'A; -5 is a blank more'],
    ['semicolon', '[1,-2]', '[1,-2]'],
    ['semicolon', 'A,-2+5', "A,'-2+5"],
  ])(
    'start none where a spreadsheet splits the cells of a table with %s at another sign: %j',
    async (separators, caseReference, cell) => {
      served.lab.running.repository.savePattern({ ...PATTERN, caseReference });
      const table = (await manager.send('GET', `/api/night.csv?separators=${separators}`)).body;
      expect(table).toContain(cell);
    },
  );
});

describe('the month sheet', () => {
  it('counts each night once, the remakes where they lay and the alarms', async () => {
    served.lab.raise('storage-warm', 'shelf-1');
    served.lab.raise('pattern-due', 'ZZ9YX');
    served.lab.pass(60);
    served.lab.running.repository.savePattern({
      ...PATTERN,
      id: 'ZZ9YX',
      fate: { kind: 'remade', at: '2031-03-03T07:30:00.000Z', by: 'Mara', reason: 'margin open' },
    });
    const month = (await manager.send('GET', '/api/month?month=2031-03')).json<MonthSheet>();
    expect(month.places[0]?.nights.map(({ date, minCelsius }) => [date, minCelsius])).toEqual([
      ['2031-03-03', 20],
    ]);
    expect(month.places[0]).toMatchObject({ ended: 1, remade: 1, invested: 0 });
    expect(month.remakes).toMatchObject([
      { id: 'ZZ9YX', stationName: 'Pattern shelf', reason: 'margin open' },
    ]);
    expect(month.alarms).toMatchObject({
      announced: 2,
      isBasis: false,
      most: [
        { rule: 'storage-warm', placeName: 'Pattern shelf', count: 1 },
        { rule: 'pattern-due', placeName: PATTERN.caseReference, count: 1 },
      ],
    });
    expect(month.alarms.figures.find(({ name }) => name === 'never-acknowledged')?.value).toBe(2);
  });
  it('sums what heaters used while the lab was closed and what the remakes cost', async () => {
    const { repository } = served.lab.running;
    const { site, stations } = repository.lab();
    const pot = stations.find(({ kind }) => heats(kind));
    if (pot === undefined) throw new Error('the lab has no heater');
    repository.saveSite({ ...site, patternCare: { remake_price: 40 } });
    repository.saveStation({ ...pot, heater_watts: 150 });
    repository.saveProbe({
      id: 'pot-wax',
      gateway: 'gw-1',
      station: pot.id,
      correction_celsius: 0,
      uncertainty_celsius: 0.2,
    });
    const fate = { kind: 'remade', by: 'Mara', reason: 'margin open' } as const;
    for (const id of ['ZZ9YX', 'ZZ9YY'])
      repository.savePattern({ ...PATTERN, id, fate: { ...fate, at: '2031-03-03T07:30:00.000Z' } });
    // On for ten hours after closing, then cold.
    await measureNight('pot-wax', (minute) => (minute < 600 ? 70 : 20));
    const month = (await manager.send('GET', '/api/month?month=2031-03')).json<MonthSheet>();
    const heater = month.heaters.find(({ station }) => station === pot.id);
    expect(heater?.onMinutes).toBeCloseTo(600, 6);
    expect(heater?.kilowattHours).toBeCloseTo(1.5, 6);
    expect(heater?.unseenMinutes).toBe(0);
    expect(month.remakeCost).toEqual({ price: 80, minutes: null });
  });
});
