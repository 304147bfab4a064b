import { mkdtemp, readdir, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { LabelledCase } from './case.ts';
import { writeCase } from './write-case.ts';

const AT = Date.UTC(2026, 1, 9, 23);
const made = (late: number): LabelledCase => ({
  name: 'stuck_on-s1',
  timeZone: 'Europe/Berlin',
  starts: AT,
  ends: AT + 86_400_000,
  stations: [],
  probes: ['pot-1-p1', 'room-1-p1'],
  readings: {
    at: Float64Array.of(AT + 2783, AT + 7712),
    receivedAt: Float64Array.of(AT + 3183, AT + 8112 + late),
    probe: Uint16Array.of(0, 1),
    celsius: Float64Array.of(21.8, 19.0625),
  },
  truth: [],
});

describe('a case on disk', () => {
  let folder: string;
  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'labelled-case-'));
  });
  afterAll(() => rm(folder, { recursive: true }));

  it('has its readings as rows in order of arrival, and no arrivals where each took 0.4 s', async () => {
    const path = join(folder, 'punctual');
    await writeCase(path, made(0));
    expect((await readdir(path)).sort()).toEqual(['stations.json', 'trace.csv', 'truth.json']);
    expect(await readFile(join(path, 'trace.csv'), 'utf8')).toBe(
      'time,probe,celsius\n2026-02-09T23:00:02.783Z,pot-1-p1,21.8\n2026-02-09T23:00:07.712Z,room-1-p1,19.0625\n',
    );
    const { time_zone, starts } = JSON.parse(await readFile(join(path, 'stations.json'), 'utf8'));
    expect([time_zone, starts]).toEqual(['Europe/Berlin', '2026-02-09T23:00:00.000Z']);
  });

  it('has a line of arrival for each line of the trace where one reading was late', async () => {
    const path = join(folder, 'late');
    await writeCase(path, made(60_000));
    expect(await readFile(join(path, 'arrivals.csv'), 'utf8')).toBe(
      'received\n2026-02-09T23:00:03.183Z\n2026-02-09T23:01:08.112Z\n',
    );
  });
});
