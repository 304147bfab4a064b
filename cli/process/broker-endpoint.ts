// Where gateways publish to, as set-up shows it: the own broker as it listens, or the address of the lab's.

import type { BrokerLogin } from '../../collector/intake/broker-login.ts';
import type { GatewayDoor } from '../../collector/intake/publish-as-gateway.ts';
import type { IntakeStatus } from '../../collector/intake/intake.ts';
import type { BrokerEndpointView } from '../../dashboard/api/lab-bodies.ts';
import type { ProcessSettings } from '../settings/settings.ts';

const EVERY_ADDRESS = new Set(['0.0.0.0', '::']);
const PORTS: Readonly<Record<string, number>> = { 'mqtt:': 1883, 'mqtts:': 8883, 'ws:': 80, 'wss:': 443 };

export function brokerEndpoint(
  { broker, host }: Pick<ProcessSettings, 'broker' | 'host'>,
  status: IntakeStatus,
  user: string | null,
): BrokerEndpointView {
  if (broker.kind === 'embedded') {
    const port = status.broker.state === 'listening' ? status.broker.port : broker.port;
    return { own: true, host: EVERY_ADDRESS.has(host) ? null : host, port, user, tls: broker.tls === true };
  }
  const url = new URL(broker.url);
  return {
    own: false,
    host: url.hostname,
    port: url.port === '' ? (PORTS[url.protocol] ?? 1883) : Number(url.port),
    user: url.username === '' ? null : decodeURIComponent(url.username),
    tls: url.protocol === 'mqtts:' || url.protocol === 'wss:',
  };
}

/** By which this program itself comes to the broker as a gateway does. */
export function gatewayDoor(
  { broker, host }: Pick<ProcessSettings, 'broker' | 'host'>,
  status: IntakeStatus,
  login: BrokerLogin | null,
): GatewayDoor {
  if (broker.kind === 'external')
    return {
      url: broker.url,
      login: null,
      ...(broker.authority !== undefined && { authority: broker.authority }),
    };
  const port = status.broker.state === 'listening' ? status.broker.port : broker.port;
  const reached = EVERY_ADDRESS.has(host) ? '127.0.0.1' : host;
  return { url: `mqtt://${reached.includes(':') ? `[${reached}]` : reached}:${port}`, login };
}
