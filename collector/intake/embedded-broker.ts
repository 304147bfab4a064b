// The broker for a lab that has none (MQTT 3.1.1). A gateway's message is taken where the broker decides whether it
// may be published, which is before the broker acknowledges it: so a gateway's PUBACK means "on disk" here too, and
// no client stands between. What it keeps for absent subscribers is in memory alone.

import type { BrokerAnswer } from '../../lab/broker-answer.ts';
import { createHash, timingSafeEqual } from 'node:crypto';
import { type AddressInfo, createServer, isIPv6, type Server } from 'node:net';
import { Aedes, type AuthenticateError } from 'aedes';
import { OUR_LEVELS } from '../decode/decode-message.ts';
import { type BrokerEvents, type BrokerSide, collectorStateTopic } from './broker-side.ts';
import type { BrokerLogin } from './broker-login.ts';
import type { EmbeddedBroker } from './intake.ts';
import { IntakeRefusal } from './intake-refusal.ts';
import { hostState, hostStateTopic } from './sparkplug-link.ts';
import { subscribedTopics } from './subscribed-topics.ts';

/** Longer than any gateway of the trade calls itself; the library's 23 is the least that the standard asks. */
const CLIENT_ID_LENGTH = 128;
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
  const aedes = new Aedes({
    maxClientsIdLength: CLIENT_ID_LENGTH,
    authenticate: (_client, user, password, done) => {
      if (login === null || isLogin(login, user, password)) return done(null, true);
      const refused = Object.assign(new Error('wrong user or password'), { returnCode: WRONG_LOGIN });
      done(refused as AuthenticateError, false);
    },
    authorizePublish: (_client, { topic, payload }, done) => {
      // A message that comes while we stop is not acknowledged, so its gateway sends it again after the start.
      if (isPaused) return done(new Error('stopping'));
      if (topic.startsWith('$')) return done(new Error(`${topic} belongs to the broker`));
      const arrival = { topic, payload: Buffer.from(payload), delivery: 'live' as const };
      const isReserved =
        topic.startsWith(ours) && OUR_LEVELS.has(topic.slice(ours.length).split('/')[0] ?? '');
      events.arrived(arrival, () =>
        done(isReserved ? new Error(`${topic} is for the collector alone`) : null),
      );
    },
  });
  const isSubscribed = subscribedTopics(aedes);
  await aedes.listen();
  const server = createServer(aedes.handle);
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
