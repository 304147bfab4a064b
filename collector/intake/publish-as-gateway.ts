// One message sent as a gateway sends it: over a connection of its own, acknowledged by the broker, so that it goes the
// whole way that a real reading goes. MQTT 3.1.1, which every broker has.

import { randomUUID } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import { connectAsync } from 'mqtt';
import type { BrokerLogin } from './broker-login.ts';

const PATIENCE_MILLIS = 5000;

export interface GatewayDoor {
  /** `mqtt://` or `mqtts://`, with `user:password@` where they are in it. */
  readonly url: string;
  readonly login: BrokerLogin | null;
  /** File with the certificate of the authority that the broker's own is checked against. */
  readonly authority?: string;
}

/** Resolves once the broker has acknowledged it; rejects with the error of the broker or the network. */
export async function publishAsGateway(
  { url, login, authority }: GatewayDoor,
  topic: string,
  text: string,
): Promise<void> {
  const client = await connectAsync(url, {
    clientId: `waxwarden-test-${randomUUID().slice(0, 8)}`,
    connectTimeout: PATIENCE_MILLIS,
    reconnectPeriod: 0,
    ...(login !== null && { username: login.user, password: login.password }),
    ...(authority !== undefined && { ca: await readFile(authority) }),
  });
  try {
    await client.publishAsync(topic, text, { qos: 1 });
  } finally {
    await client.endAsync(true);
  }
}
