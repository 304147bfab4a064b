// The record of spans that are not like others: clocks change in them, a place bears another name or another probe since,
// some of its readings are doubtful, the lab has sixty places. All forms of the record hold the same.

import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parse } from 'csv-parse/sync';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import {
  type Browser,
  PASSWORDS,
  type ServerForTests,
  serverForTests,
} from '../../../tests/server-for-tests.ts';
import { celsius, epochMillis, MILLIS_PER_DAY, MILLIS_PER_MINUTE } from '../../../wax/units.ts';
import type { EvidencePlace, EvidenceReport } from '../../api/evidence.ts';

const STEP = 5 * MILLIS_PER_MINUTE;
const HOUR = 60 * MILLIS_PER_MINUTE;
/** Midnight of the lab's zone, Europe/Berlin, in winter. */
const MONDAY = Date.parse('2031-03-02T23:00:00Z');

let served: ServerForTests;
let manager: Browser;

interface Given {
  readonly probe?: string;
  readonly isDoubtful?: (at: number) => boolean;
}
const measure = async (
  [from, to]: readonly [number, number],
  valueAt: (at: number) => number,
  { probe = 'shelf-air', isDoubtful = () => false }: Given = {},
): Promise<void> => {
  const { store } = served.lab.running;
  const readings = Array.from({ length: (to - from) / STEP }, (_, index) => from + index * STEP).map(
    (at) => ({
      probe,
      at: epochMillis(at),
      celsius: celsius(valueAt(at)),
      quality: isDoubtful(at) ? ('suspect' as const) : ('good' as const),
    }),
  );
  await store.apply({ readings, ruleState: {}, alongside: [], offset: store.offset() + 1 });
};
const passTo = async (day: string): Promise<void> => {
  served.lab.pass((Date.parse(`${day}T12:00:00Z`) - served.lab.running.now()) / 1000);
  await manager.send('POST', '/api/session', { name: 'Mara', password: PASSWORDS.manager });
};
const record = async (query: string): Promise<EvidenceReport> =>
  (await manager.send('GET', `/api/evidence?${query}`)).json<EvidenceReport>();
const shelfOf = async (query: string): Promise<EvidencePlace> => {
  const [shelf] = (await record(`${query}&station=shelf-1`)).places;
  if (shelf === undefined) throw new Error('the record has no shelf');
  return shelf;
};
const rows = async (query: string): Promise<readonly Record<string, string>[]> =>
  parse((await manager.send('GET', `/api/evidence.csv?${query}`)).body, { bom: true, columns: true });
/** The text of the PDF, each run of blanks as one. */
const paper = async (query: string): Promise<string> => {
  const folder = mkdtempSync(join(tmpdir(), 'waxwarden-evidence-'));
  const file = join(folder, 'record.pdf');
  writeFileSync(file, (await manager.send('GET', `/api/evidence.pdf?${query}&lang=en`)).rawPayload);
  const text = execFileSync('pdftotext', ['-layout', file, '-'], { encoding: 'utf8', maxBuffer: 1e8 });
  rmSync(folder, { recursive: true });
  return text.replace(/\s+/g, ' ');
};
const saveShelf = (change: object): Promise<{ readonly statusCode: number }> =>
  manager.send('PUT', '/api/stations/shelf-1', {
    name: 'Pattern shelf',
    kind: 'shelf',
    wax: 'inlay-type-2',
    ...change,
  });

beforeEach(async () => {
  served = await serverForTests({ demo: false });
  served.lab.running.repository.saveProbe({
    id: 'shelf-air',
    gateway: 'gw-1',
    station: 'shelf-1',
    correction_celsius: 0,
    uncertainty_celsius: 0.2,
  });
  manager = await served.manager();
});
afterEach(() => served.close());

describe('the record of a span', () => {
  it.each([
    ['forward, to 23 h', '2031-03-29', '2031-03-31', '2031-03-28T23:00:00Z', [288, 276, 288]],
    ['back, to 25 h', '2031-10-25', '2031-10-27', '2031-10-24T22:00:00Z', [288, 300, 288]],
  ])(
    'has no gap and no reading twice on a day on which clocks go %s',
    async (_, first, last, from, counts) => {
      await passTo(last.replace(/\d\d$/, '30').replace('03-30', '04-02'));
      const start = Date.parse(from);
      const total = counts.reduce((sum, count) => sum + count, 0);
      await measure([start, start + total * STEP], () => 20);
      const { steps, whole } = await shelfOf(`from=${first}&to=${last}`);
      expect(steps.map(({ readings, gapMinutes }) => [readings, gapMinutes])).toEqual(
        counts.map((count) => [count, 0]),
      );
      expect(whole).toMatchObject({ readings: total, gapMinutes: 0, meanCelsius: 20 });
      const days = (await rows(`from=${first}&to=${last}&station=shelf-1`)).filter(
        ({ what }) => what === 'readings-step',
      );
      expect(days.map(({ readings }) => Number(readings))).toEqual(counts);
    },
  );

  it('has the mean kinetic temperature that the formula gives by hand', async () => {
    await passTo('2031-03-05');
    // 12 h at 20 °C and 12 h at 40 °C, with the energy over gas constant of USP <1160>, 10 000 K.
    await measure([MONDAY, MONDAY + MILLIS_PER_DAY], (at) => (at < MONDAY + 12 * HOUR ? 20 : 40));
    const byHand = 10_000 / -Math.log((Math.exp(-10_000 / 293.15) + Math.exp(-10_000 / 313.15)) / 2) - 273.15;
    expect(byHand).toBeCloseTo(34.3579, 3);
    const { whole } = await shelfOf('from=2031-03-03&to=2031-03-03');
    expect(whole.meanKineticCelsius).toBeCloseTo(byHand, 1);
    expect(whole.meanCelsius).toBeCloseTo(30, 6);
    const said = `${whole.meanKineticCelsius?.toFixed(1)} °C`;
    expect(await paper('from=2031-03-03&to=2031-03-03&station=shelf-1')).toContain(said);
  });

  it('shows how many of its readings are doubtful, as figures, in the table and on paper', async () => {
    await passTo('2031-03-05');
    const isDoubtful = (at: number): boolean => at < MONDAY + 2 * HOUR;
    await measure([MONDAY, MONDAY + MILLIS_PER_DAY], () => 20, { isDoubtful });
    const query = 'from=2031-03-03&to=2031-03-03';
    const { whole, steps } = await shelfOf(query);
    expect([whole, ...steps].map(({ readings, doubtfulReadings }) => [readings, doubtfulReadings])).toEqual([
      [288, 24],
      [288, 24],
    ]);
    const table = await rows(`${query}&station=shelf-1`);
    expect(table.find(({ what }) => what === 'readings')).toMatchObject({ doubtful_readings: '24' });
    expect(await paper(`${query}&station=shelf-1`)).toMatch(/Doubtful .* 288 24 20\.0 °C/);
  });

  it('holds each hour against the limit of its time, as figures, in the table and on paper', async () => {
    await passTo('2031-03-03');
    expect((await saveShelf({ window_celsius: [15, 24] })).statusCode).toBe(200);
    await passTo('2031-03-04');
    expect((await saveShelf({ window_celsius: [15, 27] })).statusCode).toBe(200);
    await passTo('2031-03-06');
    // 25 °C is beyond the limit that held until noon (UTC) of the second day, and within the one since.
    await measure([MONDAY + 2 * MILLIS_PER_DAY - 14 * HOUR, MONDAY + 3 * MILLIS_PER_DAY], () => 25);
    const query = 'from=2031-03-03&to=2031-03-05';
    const { beyond, limits } = await shelfOf(query);
    expect(beyond).toMatchObject([
      { from: '2031-03-04T09:00:00.000Z', to: '2031-03-04T12:00:00.000Z', limitCelsius: 24 },
    ]);
    expect(limits.map(({ storageMax }) => storageMax?.celsius).slice(-2)).toEqual([24, 27]);
    const table = await rows(`${query}&station=shelf-1`);
    expect(table.filter(({ what }) => what === 'beyond-limit')).toMatchObject([
      { limit_celsius: '24', beyond_minutes: '180', extreme_celsius: '25' },
    ]);
    const text = await paper(`${query}&station=shelf-1`);
    expect(text).toMatch(/3 ?h 25\.0 °C above 24\.0 °C/);
    for (const said of ["24.0 °C (lab's own", "27.0 °C (lab's own"]) expect(text).toContain(said);
  });

  it('ends what goes on beyond a limit where the record ends, not in the time to come', async () => {
    const startedAt = served.lab.running.now();
    served.lab.pass(120);
    await measure([startedAt - HOUR, startedAt + STEP], () => 30);
    const { beyond } = await shelfOf('from=2031-03-03&to=2031-03-03');
    expect(beyond).toMatchObject([{ to: new Date(startedAt + 120_000).toISOString(), minutes: 62 }]);
  });

  it('has its heading and the name of the lab on paper one below the other where both are too long for a line', async () => {
    const { id: _, ...site } = served.lab.running.lab().site;
    const name = 'Dental Laboratory of the Northern Market Square';
    expect((await manager.send('PUT', '/api/site', { ...site, name })).statusCode).toBe(200);
    const text = await paper('from=2031-03-03&to=2031-03-03&station=shelf-1');
    expect(text).toMatch(new RegExp(`^\\s*Evidence record, Mon, 3 Mar 2031 to Mon, 3 Mar 2031 ${name} `));
  });

  it('shows a station that was renamed in it under its new name, with its alarm', async () => {
    served.lab.raise('storage-warm', 'shelf-1');
    await measure([MONDAY, MONDAY + 24 * HOUR], () => 20);
    const before = await record('from=2031-03-03&to=2031-03-03&station=shelf-1');
    expect((await saveShelf({ name: 'Cold shelf' })).statusCode).toBe(200);
    await passTo('2031-03-05');
    const query = 'from=2031-03-03&to=2031-03-04&station=shelf-1';
    const { places, changes } = await record(query);
    expect([before.places[0]?.name, places[0]?.name]).toEqual(['Pattern shelf', 'Cold shelf']);
    expect(places).toMatchObject([{ whole: { readings: 288 }, excursions: [{ rule: 'storage-warm' }] }]);
    expect(changes).toMatchObject([{ before: { name: 'Pattern shelf' }, after: { name: 'Cold shelf' } }]);
    expect((await rows(query)).filter(({ what }) => what === 'change')[0]?.after).toContain('Cold shelf');
  });

  it('holds what both probes measured at a place at which another took the place of one that was retired', async () => {
    await served.lab.measure('spare', 20);
    await passTo('2031-03-03');
    const swapped = served.lab.running.now();
    const replaced = await manager.send('POST', '/api/probes/shelf-air/replacement', { by: 'spare' });
    expect(replaced.statusCode).toBe(200);
    await passTo('2031-03-05');
    await measure([MONDAY, MONDAY + 24 * HOUR], () => 20);
    await measure([MONDAY, MONDAY + 24 * HOUR], () => 30, { probe: 'spare' });
    const { whole, probes } = await shelfOf('from=2031-03-03&to=2031-03-03');
    expect(whole).toMatchObject({ readings: 288, minCelsius: 20, maxCelsius: 30 });
    const share = (swapped - MONDAY) / MILLIS_PER_DAY;
    expect(whole.meanCelsius).toBeCloseTo(20 * share + 30 * (1 - share), 6);
    expect(probes.map(({ probe }) => probe)).toEqual(['shelf-air', 'spare']);
  });

  it('of a lab with sixty stations holds each of them, as figures, in the table and on paper', async () => {
    const names = Array.from({ length: 60 }, (_, index) => `store-${String(index + 1).padStart(2, '0')}`);
    for (const name of names) {
      const station = {
        id: name,
        name: `Store ${name}`,
        kind: 'shelf' as const,
        wax: 'inlay-type-2' as const,
      };
      served.lab.running.repository.saveStation(station);
      served.lab.running.repository.saveProbe({
        id: `${name}-air`,
        gateway: 'gw-1',
        station: name,
        correction_celsius: 0,
        uncertainty_celsius: 0.2,
      });
    }
    await passTo('2031-03-05');
    for (const [index, name] of names.entries())
      await measure([MONDAY + 12 * HOUR, MONDAY + 14 * HOUR], () => 10 + index / 10, {
        probe: `${name}-air`,
      });
    const query = 'from=2031-03-03&to=2031-03-04';
    const { places } = await record(query);
    expect(
      places.filter(({ station }) => station.startsWith('store-')).map(({ whole }) => whole.maxCelsius),
    ).toEqual(names.map((_, index) => 10 + index / 10));
    const table = await rows(query);
    expect(table.filter(({ what }) => what === 'readings')).toHaveLength(places.length);
    const text = await paper(query);
    expect(names.filter((name) => !text.includes(`Store ${name}`))).toEqual([]);
  });
});
