// An urgent alarm that reaches nobody, the whole way: a hot reading on a real broker, the real process, a push service
// that refuses, and what the wall is given to show.

import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { connectAsync, type MqttClient } from 'mqtt';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { AlarmView } from '../../dashboard/api/schemas.ts';
import { type PushService, startPushService } from '../push-service.ts';
import { askAs, type LabProcess, joinAsFirst, startLabProcess, temporaryFolder } from './lab-process.ts';
import { type Mosquitto, startMosquitto } from './mosquitto.ts';
import { until } from './until.ts';

const LAB = `
site: { id: mill-lane, name: Mill Lane Laboratory, timeZone: Europe/Lisbon }
stations:
  - { id: pot-1, name: First pot, kind: melt-pot, wax: inlay-type-2 }
  - { id: pot-2, name: Second pot, kind: melt-pot, wax: inlay-type-2 }
probes:
  - { id: pot-1-a, station: pot-1, gateway: gw-1, uncertainty_celsius: 0.5 }
  - { id: pot-2-a, station: pot-2, gateway: gw-1, uncertainty_celsius: 0.5 }
`;
const VAPOUR_IGNITES_CELSIUS = 230;

let folder: { path: string; remove: () => Promise<void> };
let service: PushService;
let broker: Mosquitto;
let labProcess: LabProcess;
let gateway: MqttClient;
let cookie: string;

const ask = (method: string, path: string, body?: object): Promise<Response> =>
  askAs(labProcess, cookie, method, path, body);
const alarm = async (rule: string, subject: string, active = true): Promise<AlarmView | undefined> => {
  const all = (await (await ask('GET', '/api/alarms')).json()) as readonly AlarmView[];
  return all.find(
    (each) => each.rule === rule && each.subject === subject && (each.clearedAt === null) === active,
  );
};
const overheat = async (pot: string): Promise<AlarmView> => {
  // One reading alone raises no alarm.
  const now = Date.now() / 1000;
  const pack = [now - 1, now].map((t) => ({ n: `${pot}-a`, u: 'Cel', v: VAPOUR_IGNITES_CELSIUS, t }));
  await gateway.publishAsync('wax/mill-lane/gw-1/senml', JSON.stringify(pack), { qos: 1 });
  return until(() => alarm('fire-risk', pot));
};
const isSaid = () => alarm('nobody-subscribed', 'site');
const isOver = () => until(async () => (await isSaid()) === undefined);

beforeEach(async () => {
  folder = await temporaryFolder();
  service = await startPushService();
  broker = await startMosquitto();
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
  gateway = await connectAsync(broker.url, { clientId: 'gw-1' });
});
afterEach(async () => {
  await gateway?.endAsync(true);
  await labProcess?.stop();
  await broker?.dispose();
  await service?.close();
  await folder?.remove();
});

describe('an urgent alarm that reaches nobody', () => {
  it('is shown on the wall when the push service refuses, until an alarm gets through again', async () => {
    await ask('POST', '/api/push/subscriptions', { ...service.subscribe(), name: 'Blue phone' });
    service.answerNext(403);
    const first = await overheat('pot-1');
    expect(first.priority).toBe('urgent');
    const said = await until(isSaid);
    expect(said.message).toContain('Phone: The push service refuses this sender (403)');

    // From here on pushes are taken; whoever saw the first one at the wall needs no notice of it.
    await ask('POST', `/api/alarms/${first.id}/acknowledge`, {});
    const second = await overheat('pot-2');
    await until(() => service.received.some(({ payload }) => payload.tag === second.id));
    await isOver();
  });

  it('is shown on the wall when the phone of the only person is gone, until a phone is subscribed', async () => {
    await ask('POST', '/api/push/subscriptions', service.subscribe());
    service.answerNext(410);
    await overheat('pot-1');
    const said = await until(isSaid);
    expect(said.message).toMatch(/The last phone unsubscribed|The phone unsubscribed or was reset/);
    await ask('POST', '/api/push/subscriptions', service.subscribe());
    await isOver();
  });

  it('is shown on the wall when whoever is on duty has no phone and no e-mail, though others have', async () => {
    await ask('POST', '/api/push/subscriptions', service.subscribe());
    const made = await ask('POST', '/api/people', { name: 'Tom Reis', role: 'technician' });
    const { person } = (await made.json()) as { person: { id: string } };
    const { plan } = (await (await ask('GET', '/api/notification-plan')).json()) as { plan: object };
    await ask('PUT', '/api/notification-plan', {
      ...plan,
      rota: { people: [person.id], startsOn: '2026-01-05', handoverTime: '08:00' },
    });
    await overheat('pot-1');
    const said = await until(isSaid);
    expect(said.message).toContain('No phone and no e-mail address for Tom Reis');
  });
});
