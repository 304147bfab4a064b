// The first minutes with one's own lab as the README has them: its lines are run by a shell as written there, against
// the lab file that they name; only the ports are others, because a machine that tests may have those taken.

import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { AlarmView } from '../../dashboard/api/schemas.ts';
import { type LabProcess, joinAsFirst, startLabProcess, temporaryFolder } from './lab-process.ts';
import { until } from './until.ts';

const readme = readFileSync(join(import.meta.dirname, '../../README.md'), 'utf8');
const fenceAfter = (heading: string): readonly string[] => {
  const [, block = ''] = /```sh\n(.*?)```/s.exec(readme.slice(readme.indexOf(`## ${heading}`))) ?? [];
  return block.trim().split('\n');
};
const startLine = fenceAfter('Start with your own lab')[0] ?? '';
const probeLines = fenceAfter('Connect a first probe');

let folder: { path: string; remove: () => Promise<void> };
let labProcess: LabProcess;
let cookie: string;
let mqttPort: string;

const shell = (lines: readonly string[]): void => {
  const wrapped = `mosquitto_pub() { command mosquitto_pub -h 127.0.0.1 -p ${mqttPort} "$@"; }`;
  const { status, stderr } = spawnSync('sh', ['-ec', [wrapped, ...lines].join('\n')], { encoding: 'utf8' });
  expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
};
const get = async <T>(path: string): Promise<T> => {
  const response = await fetch(labProcess.address + path, { headers: { cookie } });
  if (!response.ok) throw new Error(`${path}: ${response.status}`);
  return (await response.json()) as T;
};

beforeAll(async () => {
  folder = await temporaryFolder();
  const args = startLine.split('npm start -- ')[1]?.split(' ') ?? [];
  labProcess = await startLabProcess({
    data: join(folder.path, 'data'),
    args: [...args.slice(args.indexOf('--lab')), '--port', '0', '--broker', 'embedded:0'],
  });
  cookie = await joinAsFirst(labProcess);
  mqttPort = /mqtt:\/\/127\.0\.0\.1:(\d+)/.exec(labProcess.printed())?.[1] ?? '';
});
afterAll(async () => {
  await labProcess?.stop();
  await folder?.remove();
});

interface SeenProbe {
  readonly id: string;
  readonly station: string | null;
  readonly celsius: number | null;
}

describe('the first probe of the README', () => {
  it('appears as unclaimed with its last value, and once it has a station two hot readings raise an alarm', async () => {
    const claimed = probeLines.findIndex((line) => line.startsWith('#'));
    shell(probeLines.slice(0, claimed));
    const probe = await until(async () =>
      (await get<readonly SeenProbe[]>('/api/probes')).find(({ id }) => id === 'bench-probe'),
    );
    expect(probe).toMatchObject({ station: null, celsius: 72.5 });
    const saved = await fetch(`${labProcess.address}/api/probes/bench-probe`, {
      method: 'PUT',
      headers: { 'content-type': 'application/json', origin: labProcess.address, cookie },
      body: JSON.stringify({ station: 'melt-pot', correction_celsius: 0, uncertainty_celsius: 0.5 }),
    });
    expect(saved.status).toBe(200);
    shell([probeLines[0] ?? '', ...probeLines.slice(claimed + 1)]);
    const alarm = await until(async () =>
      (await get<readonly AlarmView[]>('/api/alarms')).find(
        ({ rule, station }) => rule === 'over-ceiling' && station === 'melt-pot',
      ),
    );
    expect(alarm.message).toContain('131');
  });
});
