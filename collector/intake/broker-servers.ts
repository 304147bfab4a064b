// The connection to a lab's own broker; of several the next one is tried whenever one is away. What the sign-in is stands
// with the first of them.

import { connect, type IClientOptions, type MqttClient } from 'mqtt';
import type { ExternalBroker } from './intake.ts';

const SCHEMES: Readonly<
  Record<string, { readonly protocol: 'mqtt' | 'mqtts' | 'ws' | 'wss'; readonly port: number }>
> = {
  'mqtt:': { protocol: 'mqtt', port: 1883 },
  'mqtts:': { protocol: 'mqtts', port: 8883 },
  'ws:': { protocol: 'ws', port: 80 },
  'wss:': { protocol: 'wss', port: 443 },
};

const serverOf = (url: string) => {
  const { protocol: scheme, hostname: host, port: given } = new URL(url);
  const { protocol, port } = SCHEMES[scheme] ?? { protocol: 'mqtt', port: 1883 };
  return { host, port: given === '' ? port : Number(given), protocol };
};

export function connectInTurn({ url, otherUrls = [] }: ExternalBroker, options: IClientOptions): MqttClient {
  if (otherUrls.length === 0) return connect(url, options);
  const client = connect(url, { ...options, servers: [url, ...otherUrls].map(serverOf) });
  // The library checks the certificate of the next one against the name of the one before.
  client.on('close', () => {
    delete client.options.servername;
  });
  return client;
}
