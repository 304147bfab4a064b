import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type EpochMillis, epochMillis, MILLIS_PER_DAY } from '../../wax/units.ts';
import { type LabDatabase, openDatabase } from './database.ts';
import type { Probe } from '../lab.ts';
import type { LabRepository } from './lab-repository.ts';
import { openLabRepository } from './sqlite-lab-repository.ts';
import type { Station } from '../station.ts';

const MONDAY = epochMillis(Date.UTC(2026, 2, 2, 8));
const shelf: Station = { id: 'shelf', name: 'Shelf', kind: 'shelf', wax: 'inlay-type-2' };
const probe: Probe = {
  id: 'air',
  gateway: 'gw',
  station: 'shelf',
  correction_celsius: 0,
  uncertainty_celsius: 0.4,
};
const day = (count: number): EpochMillis => epochMillis(MONDAY + count * MILLIS_PER_DAY);

let folder = '';
let database: LabDatabase;
let repository: LabRepository;
let now = MONDAY;
const ceilings = (from: EpochMillis, to: EpochMillis) =>
  repository.history
    .stationPeriods('shelf', from, to)
    .map(({ from: began, settings, isRecorded }) => [began, settings.limits.storageMax?.value, isRecorded]);

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'waxwarden-'));
  database = openDatabase(join(folder, 'lab.db'));
  now = MONDAY;
  repository = openLabRepository(
    database,
    () => now,
    () => ({ 'night-swing': { limit: 4 } }),
  );
  repository.saveSite({ ...repository.lab().site, id: 'north', name: 'North' });
  repository.saveStation({ ...shelf, ceiling_celsius: 23 });
  repository.saveProbe(probe);
});
afterEach(() => {
  database.close();
  rmSync(folder, { recursive: true });
});

describe('the history of settings', () => {
  it('answers the limit that held in a span, not the one of today', () => {
    now = day(3);
    repository.saveStation({ ...shelf, ceiling_celsius: 27 });
    expect(ceilings(day(1), day(2))).toEqual([[day(1), 23, true]]);
    expect(ceilings(day(2), day(5))).toEqual([
      [day(2), 23, true],
      [day(3), 27, true],
    ]);
    expect(repository.history.labAt(day(1)).stations).toEqual([{ ...shelf, ceiling_celsius: 23 }]);
  });

  it('answers the oldest limit for the time before the record began, and marks it as not recorded', () => {
    expect(ceilings(day(-2), day(1))).toEqual([
      [day(-2), 23, false],
      [day(0), 23, true],
    ]);
    expect(repository.history.since()).toBe(MONDAY);
  });

  it('keeps the figures of the rules and the melting range of the wax with the limits', () => {
    const [period] = repository.history.stationPeriods('shelf', day(0), day(1));
    expect(period?.settings.ruleFigures).toEqual({ 'night-swing': { limit: 4 } });
    expect(period?.settings.meltsFrom).toBeGreaterThan(40);
  });

  it('records a limit that follows from the lab’s own value of the wax', () => {
    now = day(1);
    repository.saveStation(shelf);
    now = day(2);
    repository.saveWaxOverride('inlay-type-2', { storageMax: 21 });
    expect(ceilings(day(2), day(3))).toEqual([[day(2), 21, true]]);
    expect(ceilings(day(1), day(2))[0]?.[1]).not.toBe(21);
  });

  it('leaves out what a probe measured elsewhere before it took the place of another', () => {
    now = day(2);
    repository.saveProbe({ ...probe, station: null });
    repository.saveProbe({ ...probe, id: 'spare' });
    const places = repository.history
      .probePeriods(day(0), day(4))
      .map(({ probe: { id, station }, from, to }) => [id, station, from, to]);
    expect(places).toEqual([
      ['air', 'shelf', day(0), day(2)],
      ['air', null, day(2), day(4)],
      ['spare', 'shelf', day(2), day(4)],
    ]);
  });

  it('answers which probe measured at a station before it was given to another', () => {
    repository.saveStation({ ...shelf, id: 'cabinet', kind: 'cabinet' });
    now = day(2);
    repository.saveProbe({ ...probe, station: 'cabinet' });
    expect(
      repository.history
        .probePeriods(day(1), day(3))
        .map(({ from, to, probe: { station } }) => [from, to, station]),
    ).toEqual([
      [day(1), day(2), 'shelf'],
      [day(2), day(3), 'cabinet'],
    ]);
  });

  it('keeps a removed station for the nights at which it stood', () => {
    now = day(1);
    repository.removeStation('shelf');
    expect(repository.history.labAt(day(0)).stations).toHaveLength(1);
    expect(repository.history.labAt(day(2)).stations).toEqual([]);
    expect(ceilings(day(2), day(3))).toEqual([]);
    expect(repository.history.labAt(day(2)).probes).toEqual([{ ...probe, station: null }]);
  });

  it('adds no version when a record is saved unchanged, nor when the lab is opened again', () => {
    const rows = () => database.writer.prepare('SELECT count(*) FROM lab_setting').pluck().get();
    const before = rows();
    repository.saveStation({ ...shelf, ceiling_celsius: 23 });
    openLabRepository(
      database,
      () => now,
      () => ({ 'night-swing': { limit: 4 } }),
    );
    expect(rows()).toBe(before);
  });

  it('records a default of the rules that a newer program has changed, from its start on', () => {
    now = day(4);
    openLabRepository(
      database,
      () => now,
      () => ({ 'night-swing': { limit: 5 } }),
    );
    expect(
      repository.history
        .stationPeriods('shelf', day(3), day(5))
        .map(({ settings }) => settings.ruleFigures['night-swing']),
    ).toEqual([{ limit: 4 }, { limit: 5 }]);
  });

  it('undoes its row with a change that was undone, and lets no row be changed or deleted', () => {
    now = day(1);
    expect(() =>
      database.transaction(() => {
        repository.saveStation({ ...shelf, ceiling_celsius: 30 });
        throw new Error('undone');
      }),
    ).toThrow('undone');
    expect(ceilings(day(1), day(2))).toEqual([[day(1), 23, true]]);
    expect(() => database.writer.exec("UPDATE lab_setting SET body = '{}'")).toThrow('never changed');
    expect(() => database.writer.exec('DELETE FROM lab_setting')).toThrow('never deleted');
  });
});
