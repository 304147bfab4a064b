// The broker for a lab that has none (MQTT 3.1.1). A gateway's message is taken where the broker decides whether it
// may be published, which is before the broker acknowledges it: so a gateway's PUBACK means "on disk" here too, and
// no client stands between. It keeps no session and no queue: who was away gets the retained states anew, and nobody
// can fill its memory by staying away. Limits hold before anybody has signed in.

import type { BrokerAnswer } from '../../lab/broker-answer.ts';
import { createHash, timingSafeEqual } from 'node:crypto';
import { type AddressInfo, createServer, isIPv6, type Server } from 'node:net';
import { Aedes, type AuthenticateError } from 'aedes';
import { OUR_LEVELS } from '../decode/decode-message.ts';
import { type BrokerEvents, type BrokerSide, collectorStateTopic } from './broker-side.ts';
import type { BrokerLogin } from './broker-login.ts';
import type { EmbeddedBroker } from './intake.ts';
import { connectionCounts } from './connection-limits.ts';
import { guardedConnection, PACKET_LIMIT_BYTES } from './packet-guard.ts';
import { IntakeRefusal } from './intake-refusal.ts';
import { hostState, hostStateTopic } from './sparkplug-link.ts';
import { subscribedTopics } from './subscribed-topics.ts';

/** Longer than any gateway of the trade calls itself; the library's 23 is the least that the standard asks. */
const CLIENT_ID_LENGTH = 128;
/** From the connection to its CONNECT, and from bytes that are due to their being taken. */
const CONNECT_MILLIS = 5000;
const DRAIN_MILLIS = 10_000;
/** Filters of one client; a lamp at the bench has one or two. */
const MOST_FILTERS = 50;
/** States of gateways that are kept for who subscribes later. */
const MOST_RETAINED = 1000;
/** Bad user name or password (MQTT 3.1.1, table 3.1). */
const WRONG_LOGIN = 4;

const isLoopback = (host: string): boolean =>
  host === 'localhost' || (isIPv6(host) ? host === '::1' : host.startsWith('127.'));

export const startEmbeddedBroker = async (
  site: string,
  { host, port, login }: EmbeddedBroker,
  events: BrokerEvents,
): Promise<BrokerSide> => {
  if (login === null && !isLoopback(host)) throw new IntakeRefusal('broker-needs-login', { host });
  let isPaused = false;
  const ours = `wax/${site}/`;
  const filterCounts = new WeakMap<object, number>();
  const retained = new Set<string>();
  const mayRetain = (topic: string): boolean => {
    if (!isGatewayState(topic, site)) return false;
    if (retained.size < MOST_RETAINED) retained.add(topic);
    return retained.has(topic);
  };
  const aedes = new Aedes({
    maxClientsIdLength: CLIENT_ID_LENGTH,
    connectTimeout: CONNECT_MILLIS,
    drainTimeout: DRAIN_MILLIS,
    preConnect: (_client, packet, done) => {
      // MQTT 3.1.1, 3.1.2.4: a server that has kept no session says so; this one never keeps any.
      packet.clean = true;
      done(null, true);
    },
    authenticate: (_client, user, password, done) => {
      if (login === null || isLogin(login, user, password)) return done(null, true);
      const refused = Object.assign(new Error('wrong user or password'), { returnCode: WRONG_LOGIN });
      done(refused as AuthenticateError, false);
    },
    authorizeSubscribe: (client, subscription, done) => {
      const filters = (filterCounts.get(client) ?? 0) + 1;
      filterCounts.set(client, filters);
      done(filters > MOST_FILTERS ? new Error('too many filters') : null, subscription);
    },
    authorizePublish: (_client, packet, done) => {
      const { topic, payload } = packet;
      // A message that comes while we stop is not acknowledged, so its gateway sends it again after the start.
      if (isPaused) return done(new Error('stopping'));
      if (topic.startsWith('$')) return done(new Error(`${topic} belongs to the broker`));
      const arrival = { topic, payload: Buffer.from(payload), delivery: 'live' as const };
      const isReserved =
        topic.startsWith(ours) && OUR_LEVELS.has(topic.slice(ours.length).split('/')[0] ?? '');
      // Nothing else is kept: what is refused would fill the memory, and an old value must not be taken for a live one.
      packet.retain = packet.retain && mayRetain(topic);
      events.arrived(arrival, () =>
        done(isReserved ? new Error(`${topic} is for the collector alone`) : null),
      );
    },
  });
  const isSubscribed = subscribedTopics(aedes);
  await aedes.listen();
  const counts = connectionCounts();
  const server = createServer((socket) => {
    if (!counts.open(socket, socket.remoteAddress ?? '')) {
      socket.destroy();
      return;
    }
    socket.on('close', () => counts.closed(socket));
    const connection = guardedConnection(socket, (fault) => {
      const { id } = client;
      // Before the sign-in anybody may send anything; afterwards it is a gateway that must be set right.
      if (id !== null && fault === 'packet-too-large') events.refused(id, PACKET_LIMIT_BYTES);
    });
    const client = aedes.handle(connection);
    client.once('connected', () => counts.signedIn(socket));
  });
  try {
    await listen(server, host, port);
  } catch (error) {
    await new Promise<void>((resolve) => aedes.close(resolve));
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
    // Everything that is published here arrives.
    follow: () => {},
    deliver,
    pause: async () => {
      isPaused = true;
    },
    stop: () => {
      server.close();
      return new Promise((resolve) => aedes.close(resolve));
    },
  };
};

const isGatewayState = (topic: string, site: string): boolean => {
  const [root, of, gateway = '', level, ...more] = topic.split('/');
  return root === 'wax' && of === site && gateway !== '' && level === 'state' && more.length === 0;
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

/** Digests are compared, so that neither length nor content shows in the time it takes. */
function isLogin(login: BrokerLogin, user: string | undefined, password: Uint8Array | undefined): boolean {
  const digest = (value: string | Uint8Array) => createHash('sha256').update(value).digest();
  const isUser = timingSafeEqual(digest(user ?? ''), digest(login.user));
  const isPassword = timingSafeEqual(digest(password ?? ''), digest(login.password));
  return isUser && isPassword;
}
