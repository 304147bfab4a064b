import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { caseFolders, readCase } from './read-case.ts';

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'waxwarden-case-'));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const POT = {
  id: 'pot-1',
  kind: 'melting pot',
  probes: [{ id: 'p1', where: 'in the wax', gateway: 'gw1', resolution_kelvin: 0.1, seconds: 5 }],
  wax: 'sticky wax',
  set_celsius: 76,
  ceiling_celsius: 90,
  hours: { time_zone: 'Europe/Berlin', days: ['Mon'], from: '07:30', to: '18:00' },
  ready_by: '09:15',
  control: 'on-off',
};
const TRACE = 'time,probe,celsius\n2026-02-09T23:00:02.783Z,p1,21.8\n2026-02-09T23:00:07.712Z,p1,21.9\n';
const lay = (files: Readonly<Record<string, string>> = {}, station: object = POT, at = folder) => {
  mkdirSync(at, { recursive: true });
  const all: Record<string, string> = {
    'stations.json': JSON.stringify({
      time_zone: 'Europe/Berlin',
      starts: '2026-02-09T23:00:00.000Z',
      ends: '2026-02-11T23:00:00.000Z',
      stations: [station],
    }),
    'truth.json': '[]',
    'trace.csv': TRACE,
    ...files,
  };
  for (const [name, text] of Object.entries(all)) writeFileSync(join(at, name), text);
};

describe('a case folder', () => {
  it('is read as columns, with the arrival 0.4 s after the stamp where nothing else is given', () => {
    lay();
    const { readings, probes, starts, ends } = readCase(folder);
    expect([starts, ends]).toEqual([Date.UTC(2026, 1, 9, 23), Date.UTC(2026, 1, 11, 23)]);
    expect(probes).toEqual(['p1']);
    expect([...readings.at]).toEqual([
      Date.UTC(2026, 1, 9, 23, 0, 2, 783),
      Date.UTC(2026, 1, 9, 23, 0, 7, 712),
    ]);
    expect([...readings.receivedAt]).toEqual([...readings.at].map((millis) => millis + 400));
    expect([...readings.celsius]).toEqual([21.8, 21.9]);
  });

  it('takes arrivals line by line where they are in a file of their own', () => {
    lay({ 'arrivals.csv': 'received\r\n2026-02-09T23:10:00.000Z\r\n2026-02-09T23:10:00.100Z\r\n' });
    expect([...readCase(folder).readings.receivedAt]).toEqual([
      Date.UTC(2026, 1, 9, 23, 10),
      Date.UTC(2026, 1, 9, 23, 10, 0, 100),
    ]);
  });

  it.each([
    [{ 'trace.csv': 'time,probe\n' }, /trace\.csv, line 1: expected the columns time, probe, celsius/],
    [{ 'trace.csv': `${TRACE}2026-02-09T23:00:12.000Z,p9,20\n` }, /line 4: expected a probe .* not "p9"/],
    [{ 'trace.csv': `${TRACE}yesterday,p1,20\n` }, /line 4: expected an instant/],
    [{ 'trace.csv': `${TRACE}2026-02-09T23:00:12.000Z,p1,\n` }, /line 4: expected degrees Celsius/],
    [{ 'arrivals.csv': 'received\n2026-02-09T23:10:00.000Z\n' }, /expected 2 arrivals/],
    [{ 'truth.json': '{' }, /truth\.json: expected readable JSON/],
    [{ 'truth.json': '[{"station":"pot-1"}]' }, /truth\.json: \[0\]\.begins: expected a text/],
  ] as const)('with a fault of its own (%o) is refused with the place', (files, message) => {
    lay(files);
    expect(() => readCase(folder)).toThrow(message);
  });

  it('is found at any depth', () => {
    lay({}, POT, join(folder, 'b'));
    lay({}, POT, join(folder, 'a', 'x'));
    expect(caseFolders(folder)).toEqual([join(folder, 'a', 'x'), join(folder, 'b')]);
    expect(caseFolders(join(folder, 'b'))).toEqual([join(folder, 'b')]);
  });
});

describe('a station in whatever spelling', () => {
  const read = (more: object) => {
    lay({}, { ...POT, ...more });
    return readCase(folder).stations[0];
  };

  it.each([
    [{ window_celsius: [48, 52] }],
    [{ low_celsius: 48, high_celsius: 52 }],
    [{ window_low_celsius: 48, window_high_celsius: 52 }],
  ])('has its window from %o', (fields) => {
    expect(read(fields)?.window_celsius).toEqual([48, 52]);
  });

  it.each([
    [{ uneven_limit_kelvin: 2.5 }, 'uneven_limit_kelvin', 2.5],
    [{ zones_differ_at_most_kelvin: 3 }, 'uneven_limit_kelvin', 3],
    [{ soak_minutes: 20 }, 'soak_minutes', 20],
    [{ minutes_to_soak: 25 }, 'soak_minutes', 25],
  ] as const)('has from %o its %s', (fields, name, value) => {
    expect(read(fields)?.[name]).toBe(value);
  });

  it.each([
    [[['12:00', '13:00']]],
    [['12:00', '13:00']],
    [[{ from: '12:00', to: '13:00' }]],
    [{ from: '12:00', to: '13:00' }],
  ])('has its pause from %o', (pauses) => {
    const hours = read({ hours: { ...POT.hours, pauses } })?.hours;
    expect(typeof hours === 'string' ? [] : hours?.pauses).toEqual([['12:00', '13:00']]);
  });

  it('may be always on and leave out what it does not have', () => {
    const station = read({ hours: 'always on', set_celsius: null, ceiling_celsius: null, ready_by: null });
    expect(station).toMatchObject({ hours: 'always on', set_celsius: null, ready_by: null });
    expect(station).not.toHaveProperty('window_celsius');
  });

  it('without an id is refused with the place', () => {
    expect(() => read({ id: 7 })).toThrow(/stations\[0\]\.id: expected a text/);
  });
});
