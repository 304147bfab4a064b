// The connection of the Sparkplug host application to a lab's own broker: apart from the other one, because Sparkplug
// has a clean start and a last will of its own (Eclipse Sparkplug 3.0, 5.14). A broker that refuses it costs the
// Sparkplug nodes alone; whether the broker can be reached is reported by the other connection.

import type { IClientOptions } from 'mqtt';
import { epochMillis } from '../../wax/units.ts';
import { SPARKPLUG_ROOT } from '../decode/sparkplug/host.ts';
import { connectInTurn } from './broker-servers.ts';
import type { BrokerEvents } from './broker-side.ts';
import type { ExternalBroker } from './intake.ts';
import { endClient } from './mqtt-client.ts';
import { olderProtocol } from './older-protocol.ts';

const RETRY_MILLIS = 5000;

/** Where nodes see whether their host is there; they are set up with the last part. */
export const hostStateTopic = (site: string): string => `${SPARKPLUG_ROOT}/STATE/waxwarden-${site}`;

/** Birth and last will of one connection carry the same time (3.0, 6.4.25). */
export const hostState = (online: boolean, timestamp: number): string =>
  JSON.stringify({ online, timestamp });

export interface SparkplugLink {
  readonly stop: () => Promise<void>;
}

export function startSparkplugLink(
  site: string,
  broker: ExternalBroker,
  authority: Buffer | null,
  events: BrokerEvents,
): SparkplugLink {
  const topic = hostStateTopic(site);
  let startedAt = events.now();
  const will = (): NonNullable<IClientOptions['will']> => ({
    topic,
    payload: Buffer.from(hostState(false, startedAt)),
    qos: 1,
    retain: true,
  });
  const client = connectInTurn(broker, {
    clientId: `waxwarden-${site}-sparkplug`,
    protocolVersion: 5,
    clean: true,
    keepalive: 30,
    reconnectPeriod: RETRY_MILLIS,
    reconnectOnConnackError: true,
    resubscribe: false,
    will: will(),
    ...(authority === null ? {} : { ca: authority }),
  });
  olderProtocol(client, site);
  const announce = () =>
    client.publish(topic, hostState(true, startedAt), { qos: 1, retain: true }, () => {});
  let isStopping = false;

  client.on('connect', () => {
    // Errors of a subscription that the broker does not allow end here: nothing of Sparkplug comes then.
    client.subscribe(`${SPARKPLUG_ROOT}/#`, { qos: 1, nl: false }, () => announce());
  });
  client.on('close', () => {
    startedAt = events.now();
    client.options.will = will();
  });
  client.on('error', () => {});
  client.on('message', (received, payload, packet) => {
    if (received !== topic) {
      const delivery = packet.retain ? 'retained' : 'live';
      events.arrived({ topic: received, payload, delivery }, () => {});
      return;
    }
    // The will of a connection that was lost comes after the birth of the next one (3.0, 5.14).
    const isStale = !isStopping && payload.toString() !== hostState(true, startedAt);
    if (isStale) announce();
  });
  return {
    stop: async () => {
      isStopping = true;
      if (client.connected)
        client.publish(topic, hostState(false, epochMillis(startedAt)), { qos: 1, retain: true }, () => {});
      await endClient(client);
    },
  };
}
