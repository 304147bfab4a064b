// The broker for a lab that has none (MQTT 3.1.1). A gateway's message is taken where the broker checks whether it
// may be published, which is before the broker acknowledges it: so a gateway's PUBACK means "on disk" here too, and
// no client intervenes. Limits hold before anybody has signed in, and for what is kept for clients that are away.

import type { BrokerAnswer } from '../../lab/broker-answer.ts';
import { type AddressInfo, createServer, isIPv6, type Server, type Socket } from 'node:net';
import { createServer as createSecureServer } from 'node:tls';
import type { Duplex } from 'node:stream';
import { Aedes } from 'aedes';
import { type BrokerEvents, type BrokerSide, collectorStateTopic } from './broker-side.ts';
import type { EmbeddedBroker } from './intake.ts';
import { problem } from '../../wax/result.ts';
import { brokerAccess } from './broker-access.ts';
import { brokerPolicy, ownClientId } from './broker-policy.ts';
import { connectionCutter } from './connection-cutter.ts';
import { CONNECTION_LIMITS, connectionCounts } from './connection-limits.ts';
import { guardConnection, PACKET_LIMIT_BYTES } from './packet-guard.ts';
import { IntakeRefusal } from './intake-refusal.ts';
import { keepNoPayloads } from './half-open.ts';
import { brokerSessions } from './broker-sessions.ts';
import type { BrokerSessions } from './session-persistence.ts';
import { hostState, hostStateTopic } from './sparkplug-link.ts';
import { subscribedTopics } from './subscribed-topics.ts';

/** From the connection to the end of the handshake. */
const HANDSHAKE_MILLIS = 5000;

const isLoopback = (host: string): boolean =>
  host === 'localhost' || (isIPv6(host) ? host === '::1' : host.startsWith('127.'));

export const startEmbeddedBroker = async (
  site: string,
  { host, port, login, tls, accounts = [], sessionsFile }: EmbeddedBroker,
  events: BrokerEvents,
): Promise<BrokerSide> => {
  if (login === null && !isLoopback(host)) throw new IntakeRefusal('broker-needs-login', { host });
  let isPaused = false;
  let access = brokerAccess(site, login, accounts);
  let sessions: BrokerSessions | null = null;
  const policy = brokerPolicy({
    site,
    events,
    access: () => access,
    isPaused: () => isPaused,
    sessions: () => sessions,
  });
  const aedes = new Aedes(policy.options);
  const isSubscribed = subscribedTopics(aedes);
  await aedes.listen();
  keepNoPayloads(aedes);
  if (sessionsFile !== undefined)
    sessions = await brokerSessions(aedes, site, sessionsFile, events, policy, access.logins);
  const counts = connectionCounts();
  const connections = new Set<Duplex>();
  const serve = (socket: Socket): void => {
    if (!counts.open(socket, socket.remoteAddress ?? '')) {
      socket.destroy();
      return;
    }
    socket.on('close', () => counts.closed(socket));
    const connection = guardConnection(socket, (fault) => {
      const { id } = client;
      // Before the sign-in anybody may send anything; afterwards it is a gateway that must be set right.
      if (id !== null && fault === 'packet-too-large')
        events.refused(
          `wax/${site}/${ownClientId(id)}`,
          problem('packet-too-large', { limit_kilobytes: PACKET_LIMIT_BYTES / 1024 }),
          new Uint8Array(),
        );
    });
    connections.add(connection);
    connection.on('close', () => connections.delete(connection));
    const client = aedes.handle(connection);
    client.once('connected', () => counts.signedIn(socket));
  };
  const secure =
    tls === undefined ? null : createSecureServer({ ...tls, handshakeTimeout: HANDSHAKE_MILLIS }, serve);
  const server = secure ?? createServer(serve);
  const cut = connectionCutter(server);
  // Also those whose handshake is not done, which are not counted yet.
  server.maxConnections = CONNECTION_LIMITS.inAll;
  try {
    await listen(server, host, port);
  } catch (error) {
    await new Promise<void>((resolve) => aedes.close(resolve));
    sessions?.close();
    throw error;
  }
  const listening = server.address() as AddressInfo;
  const reportClients = () =>
    events.status({ state: 'listening', host, port: listening.port, clients: aedes.connectedClients });
  aedes.on('clientReady', reportClients);
  aedes.on('clientDisconnect', reportClients);
  reportClients();

  const publish = (topic: string, payload: string | Uint8Array, retain: boolean) =>
    aedes.publish(
      { cmd: 'publish', topic, payload: Buffer.from(payload), qos: 1, retain, dup: false },
      () => {},
    );
  publish(collectorStateTopic(site), 'online', true);
  publish(hostStateTopic(site), hostState(true, events.now()), true);
  const deliver = async (topic: string, payload: string): Promise<BrokerAnswer> => {
    publish(topic, payload, false);
    return { kind: 'taken', receivers: isSubscribed(topic) ? 'some' : 'none' };
  };
  return {
    publish,
    // Everything published here arrives.
    follow: () => {},
    deliver,
    setAccounts: (changed) => {
      access = brokerAccess(site, login, changed);
      sessions?.revokeOthers(access.logins);
      // Every connected client signs in again, under its current rights.
      for (const connection of connections) connection.destroy();
    },
    ...(secure !== null && { setCertificate: (renewed) => secure.setSecureContext(renewed) }),
    pause: async () => {
      isPaused = true;
    },
    stop: async () => {
      server.close();
      await new Promise<void>((resolve) => aedes.close(resolve));
      sessions?.close();
      cut();
    },
  };
};

function listen(server: Server, host: string, port: number): Promise<void> {
  return new Promise((resolve, reject) => {
    server.once('error', (cause: NodeJS.ErrnoException) =>
      reject(
        new IntakeRefusal(
          'broker-port',
          { host, port: String(port), reason: cause.code ?? cause.message },
          cause,
        ),
      ),
    );
    server.listen(port, host, () => {
      server.removeAllListeners('error');
      resolve();
    });
  });
}
