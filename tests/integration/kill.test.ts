// kill -9 in the middle of 10,000 messages, ten times at each broker, at instants that a seed chooses: afterwards every
// reading that was acknowledged to its gateway is in the store, once and with its own value, and each pot that got too hot
// meanwhile has its one alarm, of which every channel has sent word.

import { afterEach, describe, expect, it } from 'vitest';
import { freePort } from '../free-port.ts';
import { killAtWork } from './kills.ts';
import { startMosquitto } from './mosquitto.ts';

const LOAD = { kills: 10, messages: 10_000 } as const;
const NOTHING_LOST = {
  acknowledged: LOAD.messages,
  stored: LOAD.messages,
  wrong: 0,
  status: 0,
  alarms: {
    withoutAlarm: [],
    doubled: [],
    withoutWebhook: [],
    withoutMail: [],
    withoutPush: [],
    strangeLetters: 0,
    strangePushes: 0,
  },
};

/** Each kill costs a start, which takes its time on a machine that does much else. */
const LONGEST_MILLIS = 600_000;

const cleanups: (() => unknown)[] = [];
afterEach(async () => {
  for (const cleanup of cleanups.splice(0).reverse()) await cleanup();
});

describe('a process that is killed ten times in the middle of 10,000 messages', () => {
  it('loses and doubles no reading, alarm or notice with its own broker', {
    timeout: LONGEST_MILLIS,
  }, async () => {
    const port = await freePort();
    const gatewayUrl = `mqtt://127.0.0.1:${port}`;
    expect(await killAtWork({ ...LOAD, broker: `embedded:${port}`, gatewayUrl, seed: 20_261 })).toMatchObject(
      NOTHING_LOST,
    );
  });

  it('loses and doubles no reading, alarm or notice with Mosquitto', {
    timeout: LONGEST_MILLIS,
  }, async () => {
    const { url, dispose } = await startMosquitto();
    cleanups.push(dispose);
    expect(await killAtWork({ ...LOAD, broker: url, gatewayUrl: url, seed: 20_262 })).toMatchObject(
      NOTHING_LOST,
    );
  });
});
