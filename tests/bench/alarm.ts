// From the publishing of the second reading over the ceiling to the alarm on the live stream, while 2000 other readings a
// second come in; against a bare subscriber to the same broker, which gets the very same message. Every alarm is the
// first of a pot of its own. Clocks are one: publisher, listener and peer are in this process, the product and the
// background each in one of their own. Before it, in a lab process of its own: the way to the push (alarm/to-push.ts).

import { rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as delay } from 'node:timers/promises';
import { createParser } from 'eventsource-parser';
import { connectAsync } from 'mqtt';
import {
  type LabProcess,
  joinAsFirst,
  startLabProcess,
  temporaryFolder,
} from '../integration/lab-process.ts';
import { startMosquitto } from '../integration/mosquitto.ts';
import { until } from '../integration/until.ts';
import {
  CALM_CELSIUS,
  HOT_CELSIUS,
  labFile,
  type OtherReadings,
  startOtherReadings,
  topicOf,
} from './alarm/other-readings.ts';
import { measureToPush } from './alarm/to-push.ts';
import { measureUrgent } from './alarm/urgent-push.ts';
import { printTimes } from './alarm/print-times.ts';

const ALARMS = 200;
/** Pots that only warm everything up. */
const WARM_UP = 20;
const APART_MILLIS = 60;

const pots = Array.from({ length: WARM_UP + ALARMS }, (_, index) => `pot-${index}`);
/** When the first alarm of each station came, by this process's clock. */
const listen = async (
  labProcess: LabProcess,
  cookie: string,
): Promise<(station: string) => number | undefined> => {
  const seen = new Map<string, number>();
  let hasEnded = false;
  const response = await fetch(`${labProcess.address}/api/live`, { headers: { cookie } });
  if (!response.ok || response.body === null) throw new Error(`/api/live answered ${response.status}`);
  const parser = createParser({
    onEvent: ({ event, data }) => {
      if (event !== 'alarm') return;
      const { station, rule } = JSON.parse(data) as { station: string | null; rule: string };
      if (station !== null && !seen.has(station) && rule !== 'silent-probe')
        seen.set(station, performance.now());
    },
  });
  void (async () => {
    const text = new TextDecoder();
    for await (const chunk of response.body ?? []) parser.feed(text.decode(chunk, { stream: true }));
  })()
    .catch(() => {})
    .finally(() => {
      hasEnded = true;
    });
  return (station) => {
    if (hasEnded)
      throw new Error('the server closed the live stream of the bench; run it on a calmer machine');
    return seen.get(station);
  };
};

const measureToStream = async (): Promise<void> => {
  const broker = await startMosquitto();
  const folder = await temporaryFolder();
  const file = join(folder.path, 'lab.yaml');
  writeFileSync(file, labFile(pots));
  const labProcess = await startLabProcess({ args: ['--port', '0', '--broker', broker.url, '--lab', file] });
  const client = await connectAsync(broker.url, { clientId: 'pots' });
  const bare = await connectAsync(broker.url, { clientId: 'bare' });
  let load: OtherReadings | null = null;
  const ours: number[] = [];
  const peers: number[] = [];
  try {
    const seen = await listen(labProcess, await joinAsFirst(labProcess));
    for (const pot of pots) await client.publishAsync(topicOf(pot), CALM_CELSIUS, { qos: 1 });
    const bareSeen = new Map<string, number>();
    bare.on('message', (topic) => bareSeen.set(topic, performance.now()));
    await bare.subscribeAsync(topicOf('+'), { qos: 1 });
    load = await startOtherReadings(broker.url);
    await delay(2000);
    for (const [index, pot] of pots.entries()) {
      // One reading alone raises no alarm; the time runs from the second one.
      await client.publishAsync(topicOf(pot), HOT_CELSIUS, { qos: 1 });
      await until(() => bareSeen.get(topicOf(pot)));
      bareSeen.delete(topicOf(pot));
      const start = performance.now();
      client.publish(topicOf(pot), HOT_CELSIUS, { qos: 1 });
      const bareAt = await until(() => bareSeen.get(topicOf(pot)));
      const ourAt = await until(() => seen(pot));
      if (index >= WARM_UP) {
        peers.push(bareAt - start);
        ours.push(ourAt - start);
      }
      await delay(APART_MILLIS);
    }
    const rate = Math.round(await load.rate());
    load = null;
    printTimes(
      'alarm-to-stream',
      ours,
      peers,
      `from the publish of the second hot reading to the alarm event on /api/live, journalled and committed, at ${rate} other readings/s`,
    );
  } finally {
    await load?.rate();
    await client.endAsync(true);
    await bare.endAsync(true);
    await labProcess.stop('SIGKILL');
    rmSync(labProcess.data, { recursive: true, force: true });
    await broker.dispose();
    await folder.remove();
  }
};

export const run = async (): Promise<void> => {
  await measureToPush();
  await measureUrgent();
  await measureToStream();
};
