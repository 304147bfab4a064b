import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { adoptLabFile } from './adopt-lab-file.ts';
import { type LabDatabase, openDatabase } from '../database/database.ts';
import type { Lab } from '../lab.ts';
import type { LabRepository } from '../database/lab-repository.ts';
import { DEFAULT_NOTIFICATION_PLAN } from '../notification-plan.ts';
import { readLabFile } from './read-lab-file.ts';
import { openLabRepository } from '../database/sqlite-lab-repository.ts';
import { epochMillis } from '../../wax/units.ts';

const NOW = epochMillis(Date.UTC(2026, 2, 4, 8));
const reading = readLabFile(readFileSync(new URL('../files/demo.yaml', import.meta.url), 'utf8'));
if (!reading.ok) throw new Error('the demonstration lab is not valid');
const file: Lab = reading.lab;
const renamed: Lab = { ...file, site: { ...file.site, name: 'Another name' } };
const [pot] = file.stations;
if (pot === undefined) throw new Error('the demonstration lab has no station');

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
const adopt = (lab: Lab, replace = false) => adoptLabFile(database, repository, lab, { replace });

describe('a lab file at a start', () => {
  it('is taken by an empty database', () => {
    expect(adopt(file)).toEqual({ kind: 'loaded' });
    expect(repository.lab()).toEqual(file);
  });

  it('does nothing when it is the one that was taken, so that changes on the screens stay', () => {
    adopt(file);
    repository.saveStation({ ...pot, name: 'Renamed on a screen' });
    expect(adopt(file)).toEqual({ kind: 'unchanged' });
    expect(repository.lab().stations[0]?.name).toBe('Renamed on a screen');
  });

  it('is taken when it changed and the screens changed nothing', () => {
    adopt(file);
    expect(adopt(renamed)).toEqual({ kind: 'updated' });
    expect(repository.lab().site.name).toBe('Another name');
  });

  it('is taken when only its notification plan changed', () => {
    const plan = { ...DEFAULT_NOTIFICATION_PLAN, heartbeatAt: '07:30' };
    adopt(file);
    expect(adopt({ ...file, notificationPlan: plan })).toEqual({ kind: 'updated' });
    expect(repository.lab().notificationPlan).toEqual(plan);
  });

  it('without a notification plan leaves the plan that was made on the screens', () => {
    const plan = { ...DEFAULT_NOTIFICATION_PLAN, heartbeatAt: '07:30' };
    adopt(file);
    repository.saveNotificationPlan(plan);
    expect(adopt(renamed)).toEqual({ kind: 'updated' });
    expect(repository.lab().notificationPlan).toEqual(plan);
  });

  it('is still taken when there are only new people and probes that nobody claimed', () => {
    adopt(file);
    const [someone] = file.people;
    if (someone !== undefined) repository.savePerson({ ...someone, id: 'new', name: 'New' });
    repository.saveProbe({
      id: 'seen',
      gateway: 'g',
      station: null,
      correction_celsius: 0,
      uncertainty_celsius: 0.5,
    });
    expect(adopt(renamed)).toEqual({ kind: 'updated' });
    expect(repository.lab().people.map(({ id }) => id)).toContain('new');
  });

  it('is left out when both it and the screens changed, with what differs', () => {
    adopt(file);
    repository.saveStation({ ...pot, name: 'Renamed on a screen' });
    repository.saveWaxOverride('sticky', { ceiling: 88 });
    expect(adopt(renamed)).toEqual({
      kind: 'kept',
      differences: ['site', `stations.${pot.id}`, 'wax_overrides.sticky'],
    });
    expect(repository.lab().site.name).toBe(file.site.name);
  });

  it('is left out when the lab was set up on the screens alone', () => {
    repository.saveSite({ ...file.site, name: 'By hand' });
    expect(adopt(file).kind).toBe('kept');
  });

  it('is taken whatever the screens did when it is set to replace', () => {
    adopt(file);
    repository.saveStation({ ...pot, name: 'Renamed on a screen' });
    expect(adopt(file, true)).toEqual({ kind: 'updated' });
    expect(repository.lab().stations[0]?.name).toBe(pot.name);
    expect(adopt(file, true)).toEqual({ kind: 'unchanged' });
  });
});
