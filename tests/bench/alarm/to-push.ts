// From the publishing of the second reading over the ceiling to the push at a push service of this machine, for every
// phone of
// a lab with ten technicians on duty; against a bare subscriber to the same broker. More than ten alarms in ten minutes
// would be sent in one push, so there are ten and no more, and the warming up is done by pushes of the test kind.

import { rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as delay } from 'node:timers/promises';
import { connectAsync } from 'mqtt';
import { pushTopic } from '../../../alerts/notices/channels/push.ts';
import {
  askAs,
  type LabProcess,
  joinAsFirst,
  startLabProcess,
  temporaryFolder,
} from '../../integration/lab-process.ts';
import { startMosquitto } from '../../integration/mosquitto.ts';
import { until } from '../../integration/until.ts';
import { type PushService, startPushService } from '../../push-service.ts';
import {
  CALM_CELSIUS,
  HOT_CELSIUS,
  labFile,
  type OtherReadings,
  startOtherReadings,
  topicOf,
} from './other-readings.ts';
import { printTimes } from './print-times.ts';

const ALARMS = 10;
const PHONES = 10;
const WARM_UP_TESTS = 3;
const APART_MILLIS = 500;
const PATIENCE_MILLIS = 60_000;
const pots = Array.from({ length: ALARMS }, (_, index) => `pot-${index}`);

interface Arrival {
  readonly path: string;
  readonly topic: string;
  readonly at: number;
}

/** As `until`, but a push that never comes ends the bench. */
const untilArrived = async <T>(what: string, look: () => T | undefined | false): Promise<T> => {
  const latest = performance.now() + PATIENCE_MILLIS;
  return until(() => {
    if (performance.now() > latest) throw new Error(`${what} did not come in ${PATIENCE_MILLIS / 1000} s`);
    return look();
  });
};

/** A technician with one subscribed phone; returns how to send that phone a test. */
export const technician = async (
  labProcess: LabProcess,
  manager: string,
  service: PushService,
  name: string,
) => {
  const made = await askAs(labProcess, manager, 'POST', '/api/people', { name, role: 'technician' });
  const { code } = (await made.json()) as { code: string };
  const joined = await askAs(labProcess, '', 'POST', '/api/join', {
    code,
    password: 'nine cold sticks of wax',
  });
  const cookie = joined.headers.getSetCookie()[0]?.split(';')[0] ?? '';
  const phone = service.subscribe();
  await askAs(labProcess, cookie, 'POST', '/api/push/subscriptions', phone);
  return () => askAs(labProcess, cookie, 'POST', '/api/push/test', { endpoint: phone.endpoint });
};

export const measureToPush = async (): Promise<void> => {
  const arrivals: Arrival[] = [];
  const tests: Arrival[] = [];
  const testTopic = pushTopic('test');
  const service = await startPushService((path, { topic }) => {
    const arrival = { path, topic: String(topic), at: performance.now() };
    (topic === testTopic ? tests : arrivals).push(arrival);
  });
  const broker = await startMosquitto();
  const folder = await temporaryFolder();
  const file = join(folder.path, 'lab.yaml');
  const certificate = join(folder.path, 'push-service.pem');
  writeFileSync(file, labFile(pots));
  writeFileSync(certificate, service.certificate);
  const labProcess = await startLabProcess({
    args: ['--port', '0', '--broker', broker.url, '--lab', file, '--push-hosts', service.host],
    env: { NODE_EXTRA_CA_CERTS: certificate },
  });
  const client = await connectAsync(broker.url, { clientId: 'pots' });
  const bare = await connectAsync(broker.url, { clientId: 'bare' });
  let load: OtherReadings | null = null;
  const ours: number[] = [];
  const peers: number[] = [];
  try {
    const manager = await joinAsFirst(labProcess);
    const sendTests: (() => Promise<Response>)[] = [];
    for (let index = 0; index < PHONES; index += 1)
      sendTests.push(await technician(labProcess, manager, service, `Technician ${index}`));
    for (const pot of pots) await client.publishAsync(topicOf(pot), CALM_CELSIUS, { qos: 1 });
    const bareSeen = new Map<string, number>();
    bare.on('message', (topic) => bareSeen.set(topic, performance.now()));
    await bare.subscribeAsync(topicOf('+'), { qos: 1 });
    load = await startOtherReadings(broker.url);
    for (let round = 1; round <= WARM_UP_TESTS; round += 1) {
      for (const sendTest of sendTests) await sendTest();
      await untilArrived('a test', () => tests.length >= round * PHONES);
    }
    await delay(2000);
    for (const [index, pot] of pots.entries()) {
      // One reading alone raises no alarm; the time runs from the second one.
      await client.publishAsync(topicOf(pot), HOT_CELSIUS, { qos: 1 });
      await until(() => bareSeen.get(topicOf(pot)));
      bareSeen.delete(topicOf(pot));
      const start = performance.now();
      client.publish(topicOf(pot), HOT_CELSIUS, { qos: 1 });
      const bareAt = await until(() => bareSeen.get(topicOf(pot)));
      await untilArrived(`a push of ${pot}`, () => arrivals.length >= (index + 1) * PHONES);
      peers.push(bareAt - start);
      const pushes = arrivals.slice(index * PHONES);
      if (new Set(pushes.map(({ path }) => path)).size !== PHONES || pushes.length !== PHONES)
        throw new Error(`not one push a phone for ${pot}`);
      if (new Set(pushes.map(({ topic }) => topic)).size !== 1)
        throw new Error(`pushes of another alarm came with those of ${pot}`);
      ours.push(...pushes.map(({ at }) => at - start));
      await delay(APART_MILLIS);
    }
    if (new Set(arrivals.map(({ topic }) => topic)).size !== ALARMS || arrivals.length !== ours.length)
      throw new Error('an alarm was sent twice or in one with others');
    const rate = Math.round(await load.rate());
    load = null;
    printTimes(
      'alarm-to-push',
      ours,
      peers,
      `from the publish of the second hot reading until the head of the push request is read by a push service on this machine, a new TLS connection each, both sides of its handshake included; ${ALARMS} alarms one after another, ${PHONES} phones each, so the pushes of one alarm are not independent; no more alarms, because more than ten in ten minutes are sent in one push; the peer has n ${peers.length}, its p99 is its greatest; at ${rate} other readings/s`,
    );
  } finally {
    await load?.rate();
    await client.endAsync(true);
    await bare.endAsync(true);
    await labProcess.stop('SIGKILL');
    rmSync(labProcess.data, { recursive: true, force: true });
    await service.close();
    await broker.dispose();
    await folder.remove();
  }
};
