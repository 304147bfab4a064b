// A broker without MQTT 5 is connected to in 3.1.1, which has no reason codes and sends us what we publish ourselves.
// Each connection that ends is followed by a try in MQTT 5, so that a broker that was renewed is noticed.

import { OUR_LEVELS } from '../decode/decode-message.ts';
import type { IPublishPacket, MqttClient } from 'mqtt';
import { isVersionRefusal } from './mqtt-client.ts';

/** Topics whose last payload is kept so that its echo is recognised; lamps and buzzers have a few. */
const MOST_TOPICS = 1000;

export interface OlderProtocol {
  /** The broker has 3.1.1 alone. */
  readonly isInUse: () => boolean;
  /** Whether the error only means that the broker has no MQTT 5; the next connection then uses 3.1.1. */
  readonly explains: (error: Error) => boolean;
  readonly sent: (topic: string, payload: string | Uint8Array) => void;
  /** What the broker sends back of our own. MQTT 5 spares us that. */
  readonly isEcho: (packet: IPublishPacket) => boolean;
}

export function olderProtocol(client: MqttClient, site: string): OlderProtocol {
  const newest = new Map<string, string>();
  const ours = `wax/${site}/`;
  const isInUse = (): boolean => client.options.protocolVersion === 4;
  let isConnected = false;
  let wasExplained = false;
  client.on('connect', () => {
    isConnected = true;
  });
  client.on('error', (error) => {
    if (isVersionRefusal(error)) client.options.protocolVersion = 4;
    wasExplained = true;
  });
  client.on('close', () => {
    // Some brokers end the connection without an answer where they do not have the protocol.
    if (isConnected) client.options.protocolVersion = 5;
    else if (!wasExplained) client.options.protocolVersion = isInUse() ? 5 : 4;
    isConnected = false;
    wasExplained = false;
  });
  return {
    isInUse,
    explains: isVersionRefusal,
    sent: (topic, payload) => {
      if (!isInUse()) return;
      newest.delete(topic);
      newest.set(topic, Buffer.from(payload).toString());
      const [oldest] = newest.keys();
      if (newest.size > MOST_TOPICS && oldest !== undefined) newest.delete(oldest);
    },
    isEcho: ({ topic, payload }) => {
      if (!isInUse()) return false;
      const level = topic.startsWith(ours) ? topic.slice(ours.length).split('/')[0] : undefined;
      // Retained ones come again on every connection, also those of an earlier run.
      return (level !== undefined && OUR_LEVELS.has(level)) || newest.get(topic) === payload.toString();
    },
  };
}
