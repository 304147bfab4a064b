// The MQTT session of one partition: always the same client id and a session that the broker keeps, so that whichever
// copy opens it goes on where the last one ended. A message is left unacknowledged until it is on disk.

import { connect, type IClientOptions, type MqttClient } from 'mqtt';
import { holdAcknowledgements } from '../collector/intake/hold-acknowledgements.ts';
import { isVersionRefusal } from '../collector/intake/mqtt-client.ts';
import { GROUP_MESSAGE_MOST_BYTES, partitionFilter } from '../lab/group/group-message.ts';
import { reasonOf } from '../wax/problem-error.ts';
import type { ReportIntake } from './intake.ts';

export interface GroupBroker {
  /** Nodes of one cluster, in the order in which they are tried. */
  readonly urls: readonly string[];
  /** Certificate of the authority that theirs are checked against. */
  readonly authority?: Buffer;
}

export interface PartitionSession {
  readonly isConnected: () => boolean;
  /** So many until now: after each a broker may have lost what it retained. */
  readonly connections: () => number;
  /** Retained, QoS 1; resolves when the broker has it. */
  readonly publish: (topic: string, payload: string) => Promise<void>;
  /** Ends the connection, not the session: what is not acknowledged stays with the broker. */
  readonly end: () => Promise<void>;
}

/** Longer than any outage of a group. */
const SESSION_EXPIRY_SECONDS = 90 * 24 * 3600;
const RECEIVE_MAXIMUM = 1000;
/** The broker drops what is longer (MQTT 5, 3.1.2.11.4); topic and header are at most 66 kB. */
const MOST_PACKET_BYTES = GROUP_MESSAGE_MOST_BYTES + 66_000;
const KEEPALIVE_SECONDS = 15;
const CONNECT_MILLIS = 5000;
const RECONNECT_MILLIS = 1000;
/** Makes the library acknowledge nothing and hand over the next message. */
const HELD = new Error('acknowledged when it is on disk');

const serverOf = (url: string) => {
  const { hostname, port, protocol } = new URL(url);
  const secure = protocol === 'mqtts:';
  return {
    host: hostname.replace(/^\[|\]$/g, ''),
    port: Number(port || (secure ? 8883 : 1883)),
    protocol: secure ? ('mqtts' as const) : ('mqtt' as const),
  };
};

const optionsOf = (partition: number, broker: GroupBroker, protocolVersion: 4 | 5): IClientOptions => {
  const { username, password } = new URL(broker.urls[0] ?? '');
  return {
    servers: broker.urls.map(serverOf),
    clientId: `waxwarden-group-of-labs-${partition}`,
    protocolVersion,
    clean: false,
    keepalive: KEEPALIVE_SECONDS,
    connectTimeout: CONNECT_MILLIS,
    reconnectPeriod: RECONNECT_MILLIS,
    reconnectOnConnackError: true,
    resubscribe: false,
    ...(username !== '' && { username: decodeURIComponent(username) }),
    ...(password !== '' && { password: decodeURIComponent(password) }),
    ...(broker.authority !== undefined && { ca: broker.authority }),
    ...(protocolVersion === 5 && {
      properties: {
        sessionExpiryInterval: SESSION_EXPIRY_SECONDS,
        receiveMaximum: RECEIVE_MAXIMUM,
        maximumPacketSize: MOST_PACKET_BYTES,
      },
    }),
  };
};

export function openPartitionSession(
  partition: number,
  broker: GroupBroker,
  intake: ReportIntake,
  log: (line: string) => void,
): PartitionSession {
  let isEnded = false;
  let lastTrouble = '';
  let connections = 0;
  const trouble = (reason: string): void => {
    if (reason !== lastTrouble && !isEnded) log(`broker, partition ${partition}: ${reason}`);
    lastTrouble = reason;
  };
  const open = (protocolVersion: 4 | 5): MqttClient => {
    const opened = connect(optionsOf(partition, broker, protocolVersion));
    const acknowledgements = holdAcknowledgements();
    opened.handleMessage = (packet, next) => {
      const { stream } = opened;
      const { messageId, qos } = packet;
      const payload = typeof packet.payload === 'string' ? Buffer.from(packet.payload) : packet.payload;
      intake.take({
        topic: packet.topic,
        payload,
        acknowledge: () => {
          if (qos > 0 && messageId !== undefined) acknowledgements.add(stream, messageId);
        },
      });
      const goOn = (): void => (qos > 0 ? next(HELD) : next());
      const free = intake.whenFree();
      if (free === null) goOn();
      else void free.then(goOn);
    };
    opened.on('connect', () => {
      lastTrouble = '';
      connections += 1;
      // Also on a session that is there: a broker that lost it gives a new one.
      opened.subscribe(partitionFilter(partition), { qos: 1 }, (error) => {
        if (error) trouble(reasonOf(error));
      });
    });
    opened.on('error', (error) => {
      if (isVersionRefusal(error) && protocolVersion === 5 && !isEnded) {
        opened.end(true);
        client = open(4);
      } else trouble(reasonOf(error));
    });
    return opened;
  };
  let client = open(5);
  return {
    isConnected: () => client.connected,
    connections: () => connections,
    publish: async (topic, payload) => {
      try {
        await client.publishAsync(topic, payload, { qos: 1, retain: true });
      } catch (error) {
        trouble(reasonOf(error));
        throw error;
      }
    },
    end: async () => {
      isEnded = true;
      await client.endAsync(true);
    },
  };
}
