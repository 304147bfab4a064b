// An urgent alarm to the push at a push service of this machine, alone and while forty other alarms come in: what is
// gathered or slow must not hold it up. Each urgent alarm is the first of a pot of its own, on ten phones.

import { rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as delay } from 'node:timers/promises';
import { connectAsync, type MqttClient } from 'mqtt';
import { pushTopic } from '../../../alerts/notices/channels/push.ts';
import type { AlarmView } from '../../../dashboard/api/schemas.ts';
import {
  type LabProcess,
  joinAsFirst,
  startLabProcess,
  temporaryFolder,
} from '../../integration/lab-process.ts';
import { startMosquitto } from '../../integration/mosquitto.ts';
import { until } from '../../integration/until.ts';
import { startPushService } from '../../push-service.ts';
import { CALM_CELSIUS, labFile, topicOf } from './other-readings.ts';
import { roundToHundredth, quantile } from './print-times.ts';
import { technician } from './to-push.ts';

const ALARMS = 10;
const PHONES = 10;
const OTHERS_EACH = 4;
const APART_MILLIS = 1000;
const PATIENCE_MILLIS = 60_000;
/** Over the ceiling and below the fire risk of every wax class in the lab file. */
const OVER_CEILING_CELSIUS = '110';
const FIRE_RISK_CELSIUS = '240';

const alone = Array.from({ length: ALARMS }, (_, index) => `alone-${index}`);
const among = Array.from({ length: ALARMS }, (_, index) => `among-${index}`);
const others = Array.from({ length: ALARMS * OTHERS_EACH }, (_, index) => `other-${index}`);

interface Arrival {
  readonly path: string;
  readonly topic: string;
  readonly at: number;
}

/** One reading alone raises no alarm; the second one does. */
const heat = async (client: MqttClient, pots: readonly string[], value: string): Promise<number> => {
  for (const pot of pots) await client.publishAsync(topicOf(pot), value, { qos: 1 });
  const start = performance.now();
  await Promise.all(pots.map((pot) => client.publishAsync(topicOf(pot), value, { qos: 1 })));
  return start;
};

const fireRisks = async (labProcess: LabProcess, cookie: string): Promise<ReadonlyMap<string, string>> => {
  const response = await fetch(`${labProcess.address}/api/alarms?limit=500`, { headers: { cookie } });
  const all = (await response.json()) as readonly AlarmView[];
  return new Map(
    all.flatMap(({ id, rule, station }) => (rule === 'fire-risk' && station !== null ? [[station, id]] : [])),
  );
};

export const measureUrgent = async (): Promise<void> => {
  const arrivals: Arrival[] = [];
  const service = await startPushService((path, { topic }) =>
    arrivals.push({ path, topic: String(topic), at: performance.now() }),
  );
  const broker = await startMosquitto();
  const folder = await temporaryFolder();
  const file = join(folder.path, 'lab.yaml');
  const certificate = join(folder.path, 'push-service.pem');
  writeFileSync(file, labFile([...alone, ...among, ...others]));
  writeFileSync(certificate, service.certificate);
  const labProcess = await startLabProcess({
    args: ['--port', '0', '--broker', broker.url, '--lab', file, '--push-hosts', service.host],
    env: { NODE_EXTRA_CA_CERTS: certificate },
  });
  const client = await connectAsync(broker.url, { clientId: 'pots' });
  try {
    const cookie = await joinAsFirst(labProcess);
    for (let index = 0; index < PHONES; index += 1)
      await technician(labProcess, cookie, service, `Technician ${index}`);
    for (const pot of [...alone, ...among, ...others])
      await client.publishAsync(topicOf(pot), CALM_CELSIUS, { qos: 1 });
    await delay(2000);
    const starts = new Map<string, number>();
    for (const pot of alone) {
      starts.set(pot, await heat(client, [pot], FIRE_RISK_CELSIUS));
      await delay(APART_MILLIS);
    }
    for (const [index, pot] of among.entries()) {
      await client.publishAsync(topicOf(pot), FIRE_RISK_CELSIUS, { qos: 1 });
      await heat(client, others.slice(index * OTHERS_EACH, (index + 1) * OTHERS_EACH), OVER_CEILING_CELSIUS);
      starts.set(pot, performance.now());
      await client.publishAsync(topicOf(pot), FIRE_RISK_CELSIUS, { qos: 1 });
      await delay(APART_MILLIS);
    }
    const latest = performance.now() + PATIENCE_MILLIS;
    const ids = await until(async () => {
      const risks = await fireRisks(labProcess, cookie);
      if (performance.now() > latest)
        throw new Error(`${risks.size} of ${2 * ALARMS} fire risks were raised`);
      return risks.size === 2 * ALARMS && risks;
    });
    const timesOf = async (pots: readonly string[]): Promise<readonly number[]> => {
      const times: number[] = [];
      for (const pot of pots) {
        const topic = pushTopic(ids.get(pot) ?? '');
        const first = await until(() => {
          if (performance.now() > latest) throw new Error(`a push of ${pot} did not come`);
          const byPhone = new Map<string, number>();
          for (const arrival of arrivals)
            if (arrival.topic === topic && !byPhone.has(arrival.path)) byPhone.set(arrival.path, arrival.at);
          return byPhone.size === PHONES && byPhone;
        });
        times.push(...[...first.values()].map((at) => at - (starts.get(pot) ?? 0)));
      }
      return times;
    };
    const [lonely, crowded] = [await timesOf(alone), await timesOf(among)];
    for (const [name, share] of [
      ['p50', 0.5],
      ['p99', 0.99],
    ] as const)
      console.log(
        JSON.stringify({
          name: `urgent-among-40-to-push-${name}`,
          value: roundToHundredth(quantile(crowded, share)),
          unit: 'ms',
          peer: 'the same with no other alarm',
          peer_value: roundToHundredth(quantile(lonely, share)),
          ratio: roundToHundredth(quantile(crowded, share) / quantile(lonely, share)),
          n: crowded.length,
          note: `from the publish of the second reading of a fire risk until the head of its push is read, ${ALARMS} alarms and ${PHONES} phones; each among ${OTHERS_EACH} over their ceilings at the same moment, ${others.length} in all, which are gathered`,
        }),
      );
  } finally {
    await client.endAsync(true);
    await labProcess.stop('SIGKILL');
    rmSync(labProcess.data, { recursive: true, force: true });
    await service.close();
    await broker.dispose();
    await folder.remove();
  }
};
