// A simulated gateway on a real broker: MQTT 3.1.1, QoS 1, retained state with a last will. It may die without a
// word, as gateways do, and then the broker publishes its will.

import { connectAsync, type MqttClient } from 'mqtt';
import { stateMessage, type WireMessage } from './probe/wire-format.ts';

export interface GatewayConnection {
  /** Waits while too much is unacknowledged; the message itself is acknowledged later. */
  readonly publish: (message: WireMessage) => Promise<void>;
  /** When all is acknowledged; rejects with the first failure. */
  readonly settled: () => Promise<void>;
  /** Says `offline` and disconnects. */
  readonly close: () => Promise<void>;
  /** Cuts the line, so that the last will is sent. */
  readonly die: () => Promise<void>;
}

/** Messages on their way at once: enough to keep a broker busy, few enough to hold its queues small. */
const IN_FLIGHT = 64;

export const connectGateway = async (
  brokerUrl: string,
  site: string,
  gateway: string,
): Promise<GatewayConnection> => {
  const will = stateMessage(site, gateway, 'offline');
  const client: MqttClient = await connectAsync(brokerUrl, {
    clientId: `simulated-${site}-${gateway}-${process.pid}`,
    protocolVersion: 4,
    clean: true,
    reconnectPeriod: 1000,
    will: { topic: will.topic, payload: Buffer.from(will.payload), qos: 1, retain: true },
  });
  let waiting = 0;
  let failed: Error | null = null;
  let wake: (() => void)[] = [];
  const until = async (most: number): Promise<void> => {
    while (waiting > most) await new Promise<void>((resolve) => wake.push(resolve));
    if (failed !== null) throw failed;
  };
  const send = ({ topic, payload, retain }: WireMessage): void => {
    waiting += 1;
    client.publish(topic, payload, { qos: 1, retain }, (error) => {
      waiting -= 1;
      if (error) failed ??= error;
      const woken = wake;
      wake = [];
      for (const resume of woken) resume();
    });
  };
  // The will of a broken connection is "offline", so every new one must send "online" again.
  client.on('connect', () => send(stateMessage(site, gateway, 'online')));
  send(stateMessage(site, gateway, 'online'));
  return {
    publish: async (message) => {
      await until(IN_FLIGHT - 1);
      send(message);
    },
    settled: () => until(0),
    close: async () => {
      if (client.connected) await client.publishAsync(will.topic, will.payload, { qos: 1, retain: true });
      await client.endAsync(!client.connected);
    },
    die: () => client.endAsync(true),
  };
};
