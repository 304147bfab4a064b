// Made-up messages over real brokers into a running lab, a thousand on the way at once: each is taken or quarantined, and
// heat among them is announced.

import { expect, it, onTestFinished } from 'vitest';
import { freePort } from '../free-port.ts';
import { type BrokerDoor, sendThroughBroker, startAttackedLab } from './malformed-doors.ts';
import { startMosquitto } from './mosquitto.ts';

const MESSAGES = 4000;

const overDoor = async (broker: string, door: BrokerDoor): Promise<void> => {
  const lab = await startAttackedLab(broker);
  const [{ sent, accepted, quarantined, sparkplug, lost }] = await Promise.all([
    sendThroughBroker(door, lab.data, MESSAGES, 0.31),
    lab.heatPot(door.url),
  ]);
  expect({ lost, accounted: accepted + quarantined + sparkplug }).toEqual({ lost: 0, accounted: sent });
  expect(Math.min(accepted, quarantined, sparkplug)).toBeGreaterThan(100);
  expect(await lab.stop()).toBe(0);
};

it('each of 4,000 malformed messages over the built-in broker is accepted or quarantined, and a hot pot raises its alarm meanwhile', async () => {
  const port = await freePort();
  await overDoor(`embedded:${port}`, { url: `mqtt://127.0.0.1:${port}`, versions: [4] });
});

it('each of 4,000 malformed messages over Mosquitto is accepted or quarantined, and a hot pot raises its alarm meanwhile', async () => {
  const { url, dispose } = await startMosquitto();
  onTestFinished(dispose);
  await overDoor(url, { url, versions: [4, 5] });
});
