// Made-up messages over the built-in broker and over Mosquitto into a running lab, a pot at 300 °C among them: what became
// of each, and whether the memory of the lab's process stays flat. WAXWARDEN_MALFORMED sets how many for each broker.

import { readFileSync } from 'node:fs';
import { freePort } from '../free-port.ts';
import { type BrokerDoor, sendThroughBroker, startAttackedLab } from '../integration/malformed-doors.ts';
import { startMosquitto } from '../integration/mosquitto.ts';

const MESSAGES = Number(process.env.WAXWARDEN_MALFORMED ?? 1_000_000);
/** What the first of them leaves is compiled code and caches, as at the start of every lab. */
const WARM_UP = 20_000;
const SEED = 0.7;

const residentMegabytes = (pid: number): number =>
  Number(/VmRSS:\s+(\d+)/.exec(readFileSync(`/proc/${pid}/status`, 'utf8'))?.[1]) / 1024;

async function through(name: string, broker: string, door: BrokerDoor): Promise<void> {
  const lab = await startAttackedLab(broker);
  await sendThroughBroker(door, lab.data, WARM_UP, SEED);
  const before = residentMegabytes(lab.pid);
  const started = performance.now();
  const [{ sent, accepted, quarantined, sparkplug, lost }] = await Promise.all([
    sendThroughBroker(door, lab.data, MESSAGES, SEED),
    lab.heatPot(door.url),
  ]);
  const seconds = (performance.now() - started) / 1000;
  const after = residentMegabytes(lab.pid);
  const note = `${name}; accepted ${accepted}, quarantined ${quarantined}, Sparkplug ${sparkplug}; ${Math.round(before)} MB resident before, ${Math.round(after)} after; the hot pot raised its alarm; ended with ${await lab.stop()}`;
  const print = (figure: string, value: number, unit: string): void =>
    console.log(JSON.stringify({ name: figure, value, unit, n: sent, note }));
  print('malformed-doors-lost', lost, 'messages');
  print('malformed-doors-growth', Math.round(after - before), 'MB');
  print('malformed-doors-rate', Math.round(sent / seconds), 'messages/s');
}

export const run = async (): Promise<void> => {
  const port = await freePort();
  await through('built-in broker, MQTT 3.1.1', `embedded:${port}`, {
    url: `mqtt://127.0.0.1:${port}`,
    versions: [4],
  });
  const { url, dispose } = await startMosquitto();
  await through('Mosquitto, MQTT 3.1.1 and 5', url, { url, versions: [4, 5] });
  await dispose();
};
