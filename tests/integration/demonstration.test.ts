// The built demonstration, in German: what its people named, and a past in which nothing is said that did not happen in it.

import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { LotView } from '../../dashboard/api/lots.ts';
import type { PatternView } from '../../dashboard/api/patterns.ts';
import type { AlarmView, HealthView, StationView } from '../../dashboard/api/schemas.ts';
import { type LabProcess, startLabProcess, temporaryFolder } from './lab-process.ts';
import { until } from './until.ts';

let folder: { path: string; remove: () => Promise<void> };
let demonstration: LabProcess;

beforeAll(async () => {
  folder = await temporaryFolder();
  demonstration = await startLabProcess({
    data: folder.path,
    args: ['--demo', '--demo-language', 'de', '--port', '0', '--broker', 'embedded:0'],
  });
  await until(async () => (await demonstration.get<HealthView>('/api/health')).preparing === null);
});
afterAll(async () => {
  await demonstration?.stop();
  await folder?.remove();
});

describe('the demonstration in German', () => {
  it('names stations, cases and wax in German', async () => {
    const stations = await demonstration.get<StationView[]>('/api/stations');
    const patterns = await demonstration.get<PatternView[]>('/api/patterns');
    const lots = await demonstration.get<LotView[]>('/api/lots');
    expect(stations.map(({ name }) => name)).toContain('Kronentopf');
    expect(patterns.map(({ caseReference }) => caseReference)).toContain('AB-1042 Krone 26');
    expect(lots.map(({ maker }) => maker)).toContain('Birkhall Tauchwachs gelb');
  });

  it('has a week of alarms, and none of a program that did not run', async () => {
    const alarms = await demonstration.get<AlarmView[]>('/api/alarms?state=all&limit=500');
    expect(alarms.map(({ rule }) => rule)).toContain('left-on');
    expect(alarms.filter(({ subjectKind }) => subjectKind === 'site')).toEqual([]);
  });
});
