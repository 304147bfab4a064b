import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Charge } from '../charge.ts';
import { type LabDatabase, openDatabase } from './database.ts';
import type { Lab, Probe } from '../lab.ts';
import type { LabRepository } from './lab-repository.ts';
import type { Pattern } from '../pattern.ts';
import { recall } from '../patterns/recall.ts';
import { DEFAULT_NOTIFICATION_PLAN } from '../notification-plan.ts';
import { openLabRepository } from './sqlite-lab-repository.ts';
import type { Station } from '../station.ts';
import { epochMillis } from '../../wax/units.ts';

const NOW = epochMillis(Date.UTC(2026, 2, 4, 8));
const pot: Station = { id: 'pot', name: 'Pot', kind: 'melt-pot', wax: 'inlay-type-2', charge_grams: 40 };
const shelf: Station = { id: 'shelf', name: 'Shelf', kind: 'shelf', wax: null };
const probe: Probe = {
  id: 'pot-wax',
  gateway: 'gw',
  station: 'pot',
  correction_celsius: -0.2,
  uncertainty_celsius: 0.4,
};
const described: Lab = {
  site: {
    id: 'north',
    name: 'North',
    timeZone: 'Europe/Madrid',
    workingHours: { mon: [['08:00', '17:00']], tue: [], wed: [], thu: [], fri: [], sat: [], sun: [] },
    holidays: ['2026-12-25'],
  },
  stations: [shelf, pot],
  probes: [probe],
  charges: [],
  patterns: [],
  people: [],
  waxOverrides: { 'inlay-type-2': { ceiling: 84 } },
};
const charge = (id: string, startedAt: string, endedAt: string | null): Charge => ({
  id,
  station: 'pot',
  wax: 'inlay-type-2',
  grams: 40,
  startedAt,
  topUps: [],
  cleanedAt: null,
  endedAt,
});
const pattern = (id: string, madeAt: string, over: boolean): Pattern => ({
  id,
  caseReference: 'K-1',
  wax: 'inlay-type-2',
  technique: 'layered',
  length_millimetres: 12,
  tolerance_micrometres: 50,
  madeAt,
  madeBy: 'mira',
  stays: [{ station: 'shelf', from: madeAt, to: null }],
  fate: over ? { kind: 'invested', at: '2026-03-03T09:00:00Z', by: 'mira', reason: 'in time' } : null,
});

let folder = '';
let database: LabDatabase;
let repository: LabRepository;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'waxwarden-'));
  database = openDatabase(join(folder, 'lab.db'));
  repository = openLabRepository(database, () => NOW);
});
afterEach(() => {
  database.close();
  rmSync(folder, { recursive: true });
});

describe('the lab in the database', () => {
  it('is empty at first, with a provisional site until it is named', () => {
    expect(repository.isEmpty()).toBe(true);
    expect(repository.lab().site.timeZone).toBe('UTC');
    repository.saveStation(pot);
    expect(repository.isEmpty()).toBe(false);
  });

  it('gives back a described lab as it was, in its order, also after a restart', () => {
    repository.replace(described);
    expect(repository.lab()).toEqual(described);
    expect(openLabRepository(database, () => NOW).lab()).toEqual(described);
  });

  it('is the same object until something changes, and a new one then', () => {
    repository.replace(described);
    const before = repository.lab();
    expect(repository.lab()).toBe(before);
    repository.saveStation({ ...pot, name: 'Large pot' });
    expect(repository.lab()).not.toBe(before);
    expect(before.stations[1]?.name).toBe('Pot');
    expect(repository.lab().stations.map(({ name }) => name)).toEqual(['Shelf', 'Large pot']);
  });

  it('leaves the probes of a removed station unclaimed', () => {
    repository.replace(described);
    repository.removeStation('pot');
    expect(repository.lab().stations).toEqual([shelf]);
    expect(repository.lab().probes).toEqual([{ ...probe, station: null }]);
  });

  it('keeps charges and patterns that are over, apart from those that are not', () => {
    repository.replace(described);
    repository.saveCharge(charge('old', '2026-01-01T08:00:00Z', null));
    repository.saveCharge(charge('old', '2026-01-01T08:00:00Z', '2026-02-01T08:00:00Z'));
    repository.saveCharge(charge('new', '2026-02-01T08:00:00Z', null));
    repository.savePattern(pattern('P1', '2026-03-01T08:00:00Z', true));
    repository.savePattern(pattern('P2', '2026-03-02T08:00:00Z', false));
    expect(repository.lab().charges.map(({ id }) => id)).toEqual(['new']);
    expect(repository.lab().patterns.map(({ id }) => id)).toEqual(['P2']);
    expect(repository.allCharges('pot').map(({ id }) => id)).toEqual(['new', 'old']);
    expect(repository.allCharges('shelf')).toEqual([]);
    expect(repository.allPatterns(10).map(({ id }) => id)).toEqual(['P2', 'P1']);
    expect(repository.allPatterns(1)).toHaveLength(1);
    expect(repository.allPatterns()).toHaveLength(2);
    expect(repository.findPattern('P1')).toEqual(pattern('P1', '2026-03-01T08:00:00Z', true));
    expect(repository.findCharge('old')).toMatchObject({ endedAt: '2026-02-01T08:00:00Z' });
    expect(repository.findCharge('P1')).toBeUndefined();
  });

  it('keeps history and people when the described lab is replaced', () => {
    repository.saveCharge(charge('kept', '2026-01-01T08:00:00Z', null));
    repository.savePerson({
      id: 'mira',
      name: 'Mira',
      role: 'technician',
      language: 'en',
      temperatureUnit: 'celsius',
      hourCycle: 'h23',
      email: null,
      namesOnLockScreen: false,
      morningHeartbeat: false,
    });
    repository.replace({ ...described, stations: [shelf], probes: [] });
    expect(repository.lab().charges.map(({ id }) => id)).toEqual(['kept']);
    expect(repository.lab().people.map(({ id }) => id)).toEqual(['mira']);
    repository.removePerson('mira');
    expect(repository.lab().people).toEqual([]);
  });

  it('takes an override back when its last value is taken out', () => {
    repository.replace(described);
    repository.saveWaxOverride('paraffin', { ceiling: 90 });
    repository.saveWaxOverride('inlay-type-2', {});
    expect(repository.lab().waxOverrides).toEqual({ paraffin: { ceiling: 90 } });
  });

  it('notifies listeners after a change is committed, until they leave', () => {
    const stationCounts: number[] = [];
    const leave = repository.onChange(() => stationCounts.push(repository.lab().stations.length));
    repository.saveStation(pot);
    leave();
    repository.saveStation(shelf);
    expect(stationCounts).toEqual([1]);
  });

  it('drops what a larger transaction undid, and notifies listeners only when that has ended', () => {
    repository.saveStation(pot);
    const stationCounts: number[] = [];
    repository.onChange(() => stationCounts.push(repository.lab().stations.length));
    expect(() =>
      database.transaction(() => {
        repository.saveStation(shelf);
        expect(repository.lab().stations).toHaveLength(2);
        expect(stationCounts).toEqual([]);
        throw new Error('no');
      }),
    ).toThrow('no');
    expect(repository.lab().stations).toEqual([pot]);
    expect(stationCounts).toEqual([1]);
  });
});

/** The tables as the first two migrations made them, when the plan had another name. */
const EARLIER_TABLES = [
  ...['lab_site', 'lab_station', 'lab_probe', 'lab_person', 'lab_wax_override', 'lab_telling'].map(
    (name) =>
      `CREATE TABLE ${name} (id TEXT PRIMARY KEY, position INTEGER NOT NULL, body TEXT NOT NULL) WITHOUT ROWID;`,
  ),
  ...['lab_charge', 'lab_pattern'].map(
    (name) =>
      `CREATE TABLE ${name} (id TEXT PRIMARY KEY, station TEXT, began_at TEXT NOT NULL, ended_at TEXT, body TEXT NOT NULL) WITHOUT ROWID;`,
  ),
  "INSERT INTO migration VALUES ('lab', 1, '2026-01-05T08:00:00.000Z'), ('lab', 2, '2026-01-05T08:00:00.000Z');",
].join('\n');

describe('the lab of an earlier database', () => {
  it('keeps its notification plan, and takes a new one in its place', () => {
    const earlier = openDatabase(join(folder, 'earlier.db'));
    const plan = { ...DEFAULT_NOTIFICATION_PLAN, lampTopics: ['lab/lamp'] };
    earlier.writer.exec(EARLIER_TABLES);
    earlier.writer.prepare("INSERT INTO lab_telling VALUES ('plan', 1, ?)").run(JSON.stringify(plan));
    earlier.writer.prepare("INSERT INTO lab_station VALUES ('pot', 1, ?)").run(JSON.stringify(pot));

    const opened = openLabRepository(earlier, () => NOW);
    expect(opened.lab()).toMatchObject({ notificationPlan: plan, stations: [pot] });
    opened.saveNotificationPlan({ ...plan, heartbeatAt: '08:30' });
    earlier.close();
    const again = openDatabase(join(folder, 'earlier.db'));
    expect(openLabRepository(again, () => NOW).lab().notificationPlan).toEqual({
      ...plan,
      heartbeatAt: '08:30',
    });
    again.close();
  });

  it('keeps charges, top-ups and patterns of before lots were recorded, and takes lots beside them', () => {
    const file = join(folder, 'earlier.db');
    const earlier = openDatabase(file);
    earlier.writer.exec(EARLIER_TABLES);
    const oldCharge = {
      ...charge('c-1', '2026-02-02T08:00:00Z', null),
      topUps: [{ at: '2026-02-03T08:00:00Z', fraction: 0.5, by: 'mira' }],
    };
    const [waiting, ended] = [
      pattern('p-1', '2026-03-01T08:00:00Z', false),
      pattern('p-2', '2026-03-02T08:00:00Z', true),
    ];
    earlier.writer
      .prepare("INSERT INTO lab_charge VALUES ('c-1', 'pot', ?, NULL, ?)")
      .run(oldCharge.startedAt, JSON.stringify(oldCharge));
    for (const old of [waiting, ended])
      earlier.writer
        .prepare("INSERT INTO lab_pattern VALUES (?, 'shelf', ?, ?, ?)")
        .run(old.id, old.madeAt, old.fate?.at ?? null, JSON.stringify(old));
    const opened = openLabRepository(earlier, () => NOW);
    const lot = {
      ...({ id: 'L1', wax: 'inlay-type-2', maker: 'North Wax', lot: 'X-1', expiresOn: null } as const),
      sheetValues: { ceiling: 84 },
      recordedAt: '2026-03-03T08:00:00Z',
      recordedBy: 'mira',
    };
    opened.saveLot(lot);
    earlier.close();
    const again = openDatabase(file);
    const repositoryAgain = openLabRepository(again, () => NOW);
    expect(repositoryAgain.allCharges()).toEqual([oldCharge]);
    expect(repositoryAgain.allPatterns(10)).toEqual([ended, waiting]);
    expect(repositoryAgain.lab()).toMatchObject({ charges: [oldCharge], patterns: [waiting], lots: [lot] });
    expect(recall([lot], [oldCharge], [waiting, ended])).toMatchObject({ patterns: [], charges: [] });
    again.close();
  });
});
