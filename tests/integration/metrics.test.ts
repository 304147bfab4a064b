// `/metrics` as promtool, the checker of the text exposition format, reads it: the format is
// accepted, and nothing is found against its rules of naming.

import { spawnSync } from 'node:child_process';
import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type LabProcess, joinAsFirst, startLabProcess, temporaryFolder } from './lab-process.ts';
import { until } from './until.ts';

const LAB = `
site: { id: harbour, name: Harbour Street Laboratory, timeZone: Europe/Lisbon }
stations:
  - { id: big-pot, name: 'Big "pot" \\ 1', kind: melt-pot, wax: inlay-type-2 }
probes:
  - { id: big-pot-wax, gateway: bench, station: big-pot }
`;

let folder: { path: string; remove: () => Promise<void> };
let labProcess: LabProcess;
let cookie: string;

const check = (metrics: string) =>
  spawnSync('promtool', ['check', 'metrics'], { input: metrics, encoding: 'utf8' });

beforeAll(async () => {
  folder = await temporaryFolder();
  await writeFile(join(folder.path, 'lab.yaml'), LAB);
  labProcess = await startLabProcess({
    data: join(folder.path, 'data'),
    args: ['--port', '0', '--broker', 'embedded:0', '--lab', join(folder.path, 'lab.yaml')],
  });
  cookie = await joinAsFirst(labProcess);
});
afterAll(async () => {
  await labProcess?.stop();
  await folder?.remove();
});

describe('the figures for a monitoring system', () => {
  it('are accepted by its checker without a word, measured values among them', async () => {
    const port = /mqtt:\/\/127\.0\.0\.1:(\d+)/.exec(labProcess.printed())?.[1] ?? '';
    const sent = spawnSync('mosquitto_pub', [
      ...['-h', '127.0.0.1', '-p', port, '-q', '1'],
      ...['-t', 'wax/harbour/bench/big-pot-wax/celsius', '-m', '72.5'],
    ]);
    expect(sent.status).toBe(0);
    const metrics = await until(async () => {
      const response = await fetch(`${labProcess.address}/metrics`, { headers: { cookie } });
      expect(response.headers.get('content-type')).toContain('text/plain');
      const text = await response.text();
      return / 72\.5$/m.test(text) ? text : undefined;
    });
    expect(metrics).toMatch(/^waxwarden_station_reading_age_seconds\{.*\} \d/m);
    expect(metrics).toMatch(/^waxwarden_intake_messages_total\{outcome="acknowledged"\} [1-9]/m);
    expect(metrics).toMatch(/^waxwarden_intake_messages_total\{outcome="rejected"\} 0$/m);
    for (const channel of ['push', 'mail', 'webhook', 'lamp', 'mqtt']) {
      expect(metrics).toContain(`waxwarden_notice_queue_age_seconds{channel="${channel}"}`);
      expect(metrics).toContain(`waxwarden_notices_waiting{channel="${channel}"}`);
    }
    const { status, stdout, stderr } = check(metrics);
    expect({ status, stdout, stderr }).toEqual({ status: 0, stdout: '', stderr: '' });
  });

  it('would be refused by it if they were not as they must be', () => {
    expect(check('wax celsius 72.5\n').status).not.toBe(0);
  });
});
