// A device that reports its own death, the whole way: an independent Sparkplug node on a real broker, the real process,
// the minute of grace, the wall and a push service that decrypts.

import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { newClient, type UPayload } from 'sparkplug-client';
import { afterAll, beforeAll, expect, it } from 'vitest';
import type { AlarmView } from '../../dashboard/api/schemas.ts';
import { GONE_GRACE_SECONDS } from '../../alerts/watch/measures/silence-length.ts';
import { type PushService, startPushService } from '../push-service.ts';
import { askAs, type LabProcess, joinAsFirst, startLabProcess, temporaryFolder } from './lab-process.ts';
import { type Mosquitto, startMosquitto } from './mosquitto.ts';
import { until } from './until.ts';

const DAYS = ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'];
/** Open day and night, so that what is announced does not depend on when the test runs. */
const LAB = `
site:
  id: mill-lane
  name: Mill Lane Laboratory
  timeZone: Europe/Lisbon
  workingHours: { ${DAYS.map((day) => `${day}: ["00:00-24:00"]`).join(', ')} }
stations:
  - { id: pot-1, name: First pot, kind: melt-pot, wax: inlay-type-2 }
  - { id: pot-2, name: Second pot, kind: melt-pot, wax: inlay-type-2 }
probes:
  - { id: pot-1, station: pot-1, gateway: edge-1, uncertainty_celsius: 0.5 }
  - { id: pot-2, station: pot-2, gateway: edge-1, uncertainty_celsius: 0.5 }
`;

let folder: { path: string; remove: () => Promise<void> };
let service: PushService;
let broker: Mosquitto;
let labProcess: LabProcess;
let cookie: string;
let node: ReturnType<typeof newClient>;

const metric = (value: number): NonNullable<UPayload['metrics']>[number] => ({
  name: 'Temperature',
  type: 'Double',
  value,
  timestamp: Date.now(),
  properties: { engUnit: { type: 'String', value: 'degC' } },
});
const payload = (value: number): UPayload => ({ timestamp: Date.now(), metrics: [metric(value)] });
const ask = async <T>(method: string, path: string, body?: object): Promise<T> =>
  (await (await askAs(labProcess, cookie, method, path, body)).json()) as T;
const silences = async () =>
  (await ask<readonly AlarmView[]>('GET', '/api/alarms')).filter(({ rule }) => rule === 'probe-silent');
const lastOf = async (probe: string): Promise<number | undefined> =>
  (await ask<readonly { id: string; celsius: number | null }[]>('GET', '/api/probes')).find(
    ({ id }) => id === probe,
  )?.celsius ?? undefined;

beforeAll(async () => {
  folder = await temporaryFolder();
  [service, broker] = await Promise.all([startPushService(), startMosquitto()]);
  await writeFile(join(folder.path, 'lab.yaml'), LAB);
  await writeFile(join(folder.path, 'push-service.pem'), service.certificate);
  labProcess = await startLabProcess({
    data: join(folder.path, 'data'),
    args: [
      ...['--port', '0', '--broker', broker.url, '--push-hosts', service.host],
      ...['--lab', join(folder.path, 'lab.yaml')],
    ],
    env: { NODE_EXTRA_CA_CERTS: join(folder.path, 'push-service.pem') },
  });
  cookie = await joinAsFirst(labProcess);
  await ask('POST', '/api/push/subscriptions', { ...service.subscribe(), name: 'Blue phone' });
  node = newClient({
    serverUrl: broker.url,
    username: '',
    password: '',
    groupId: 'bench',
    edgeNode: 'edge-1',
    clientId: 'edge-1',
    publishDeath: true,
    version: 'spBv1.0',
  });
  node.on('birth', () => {
    node.publishNodeBirth({
      timestamp: Date.now(),
      metrics: [{ name: 'Node Control/Rebirth', type: 'Boolean', value: false }],
    });
    for (const pot of ['pot-1', 'pot-2']) node.publishDeviceBirth(pot, payload(60));
  });
});
afterAll(async () => {
  node?.stop();
  await labProcess?.stop();
  await Promise.all([broker?.dispose(), service?.close()]);
  await folder?.remove();
});

it('A device that reports its death is announced as silent after the grace and not before, and clears when it is born again', async () => {
  await until(async () => (await lastOf('pot-1')) === 60 && (await lastOf('pot-2')) === 60);
  for (const pot of ['pot-1', 'pot-2']) node.publishDeviceData(pot, payload(61));
  await until(async () => (await lastOf('pot-1')) === 61 && (await lastOf('pot-2')) === 61);

  // One of the two comes back within the grace, and is never announced.
  for (const pot of ['pot-1', 'pot-2']) node.publishDeviceDeath(pot, { timestamp: Date.now(), metrics: [] });
  const diedAt = Date.now();
  node.publishDeviceBirth('pot-2', payload(61.5));
  await until(async () => (await lastOf('pot-2')) === 61.5);
  const [alarm] = await until(async () => {
    const all = await silences();
    return all.length > 0 && all;
  });
  expect(alarm).toMatchObject({ subject: 'pot-1' });
  expect(Date.parse(alarm?.raisedAt ?? '') - diedAt).toBeGreaterThanOrEqual((GONE_GRACE_SECONDS - 1) * 1000);
  const push = await until(() => service.received.find(({ payload: { tag } }) => tag === alarm?.id));
  expect(`${push.payload.title} ${push.payload.body}`).toMatch(/First pot/);
  expect(alarm?.message).toContain('gateway');

  node.publishDeviceBirth('pot-1', payload(62));
  await until(async () => (await silences()).every(({ clearedAt }) => clearedAt !== null));
  expect((await silences()).map(({ subject }) => subject)).not.toContain('pot-2');
});
