// What the embedded broker checks before it lets a client in, subscribe or publish. A gateway's message is taken here,
// where the broker checks whether it may be published, which is before the broker acknowledges it.

import type { AedesOptions, AuthenticateError } from 'aedes';
import { hasInvisibleSigns } from '../../lab/visible-text.ts';
import { problem } from '../../wax/result.ts';
import { OUR_LEVELS } from '../decode/decode-message.ts';
import { gatewayId } from '../decode/identifier.ts';
import type { BrokerAccess, BrokerUser } from './broker-access.ts';
import type { BrokerEvents } from './broker-side.ts';
import type { SessionParts, BrokerSessions } from './session-persistence.ts';
import { hostStateTopic } from './sparkplug-link.ts';

/** Longer than any gateway of the trade calls itself; the library's 23 is the least that the standard demands. */
const CLIENT_ID_LENGTH = 128;
/** Identifier rejected; bad user name or password (MQTT 3.1.1, table 3.1). */
const WRONG_CLIENT_ID = 2;
const WRONG_LOGIN = 4;
/** A wrong password is answered only after this long, so that passwords cannot be tried by the thousand. */
const REFUSAL_MILLIS = 1000;
/** From the connection to its CONNECT, and for each write that the client has to take. */
const CONNECT_MILLIS = 5000;
const DRAIN_MILLIS = 10_000;
/** Filters of one client; a lamp at the bench needs one or two. */
const MOST_FILTERS = 50;
/** States of gateways that are kept for who subscribes later. */
const MOST_RETAINED = 1000;
/** A state is one word, perhaps with blanks around it. */
const LONGEST_STATE_BYTES = 64;

/** A node carries out a command of any sender: only its host may send one. */
const SPARKPLUG_COMMAND = /^spBv1\.0\/[^/]*\/[ND]CMD(\/|$)/;

const isGatewayState = (topic: string, site: string): boolean => {
  const [root, of, gateway = '', level, ...more] = topic.split('/');
  return root === 'wax' && of === site && gatewayId(gateway).ok && level === 'state' && more.length === 0;
};

/**
 * Whether a message may bear the topic (MQTT 3.1.1, 4.7.1 and 4.7.3). The library checks it for messages and not for wills,
 * and a subscriber that gets another one may end its connection.
 */
// biome-ignore lint/suspicious/noControlCharactersInRegex: the character that no topic may hold
const isTopicName = (topic: string): boolean => topic !== '' && !/[+#\u0000]/.test(topic);

/** Nothing else is kept: what is refused would fill the memory, and an old value must not be taken for a live one. */
const retainedStates = (site: string): ((topic: string, bytes: number) => boolean) => {
  const retained = new Set<string>();
  return (topic, bytes) => {
    if (bytes > LONGEST_STATE_BYTES || !isGatewayState(topic, site)) return false;
    if (retained.size < MOST_RETAINED) retained.add(topic);
    return retained.has(topic);
  };
};

/**
 * A client ends an earlier one of the same id (MQTT 3.1.1, 3.1.4-2). Each account has ids of its own, so that nobody ends
 * the connection of a paired gateway by taking its id. No gateway's name holds "/".
 */
const idWithin = (user: BrokerUser, id: string): string =>
  `${user.kind === 'gateway' ? user.gateway : ''}/${id}`;
/** What the client calls itself. */
export const ownClientId = (id: string): string => id.slice(id.indexOf('/') + 1);

export interface PolicyParts {
  readonly site: string;
  readonly access: () => BrokerAccess;
  readonly events: BrokerEvents;
  /** A message that comes while we stop is not acknowledged, so its gateway sends it again after the start. */
  readonly isPaused: () => boolean;
  /** Null where none are kept. */
  readonly sessions: () => BrokerSessions | null;
}

export interface BrokerPolicy extends Pick<SessionParts, 'loginOf' | 'hasGranted'> {
  readonly options: AedesOptions;
}

export function brokerPolicy({ site, access, events, isPaused, sessions }: PolicyParts): BrokerPolicy {
  const granted = new WeakMap<object, Set<string>>();
  const nameless = new WeakSet<object>();
  const users = new WeakMap<object, BrokerUser>();
  const userOf = (client: object | null): BrokerUser =>
    (client === null ? undefined : users.get(client)) ?? { kind: 'shared' };
  const mayRetain = retainedStates(site);
  const ours = `wax/${site}/`;
  // Anybody who writes there can silence a buzzer.
  const ofLamps = 'lamps/';
  // Sparkplug nodes that read that their host is away keep their readings back.
  const hostTopic = hostStateTopic(site);
  const isReserved = (topic: string): boolean =>
    topic === hostTopic ||
    SPARKPLUG_COMMAND.test(topic) ||
    topic.startsWith(ofLamps) ||
    (topic.startsWith(ours) && OUR_LEVELS.has(topic.slice(ours.length).split('/')[0] ?? ''));
  const options: AedesOptions = {
    maxClientsIdLength: CLIENT_ID_LENGTH,
    connectTimeout: CONNECT_MILLIS,
    drainTimeout: DRAIN_MILLIS,
    preConnect: (client, packet, done) => {
      // MQTT 3.1.1, 3.1.3-8: the library makes up an id, under which nobody would find a session again.
      if (!packet.clean && packet.clientId === '') nameless.add(client);
      if (sessions() === null) packet.clean = true;
      done(null, true);
    },
    authenticate: (client, user, password, done) => {
      // The library holds its limit for older clients alone. The id is in quarantine under what the client did wrong.
      if (client.id.length > CLIENT_ID_LENGTH || hasInvisibleSigns(client.id) || nameless.has(client)) {
        const refused = Object.assign(new Error('no client id'), { returnCode: WRONG_CLIENT_ID });
        return done(refused as AuthenticateError, false);
      }
      const signedIn = access().signIn(user, password);
      if (signedIn !== null) {
        users.set(client, signedIn);
        client.id = idWithin(signedIn, client.id);
        return done(null, true);
      }
      const refused = Object.assign(new Error('wrong user or password'), { returnCode: WRONG_LOGIN });
      setTimeout(() => done(refused as AuthenticateError, false), REFUSAL_MILLIS).unref();
    },
    authorizeSubscribe: (client, subscription, done) => {
      const { topic } = subscription;
      const filters = granted.get(client) ?? new Set();
      granted.set(client, filters);
      const may =
        (filters.size < MOST_FILTERS || filters.has(topic)) && access().maySubscribe(userOf(client), topic);
      if (may) filters.add(topic);
      // Null refuses the filter and keeps the connection (MQTT 3.1.1, 3.9.3).
      done(null, may ? subscription : null);
    },
    authorizePublish: (client, packet, done) => {
      const { topic } = packet;
      if (isPaused()) return done(new Error('stopping'));
      if (topic.startsWith('$')) return done(new Error(`${topic} belongs to the broker`));
      const payload = Buffer.from(packet.payload);
      const isOurs = isReserved(topic);
      if (isOurs || !access().mayPublish(userOf(client), topic)) {
        events.refused(topic, problem(isOurs ? 'reserved-topic' : 'not-its-own-topic'), payload);
        return done(new Error(`${topic} belongs to ${isOurs ? 'the collector' : 'another gateway'}`));
      }
      packet.retain = packet.retain && mayRetain(topic, payload.length);
      events.arrived({ topic, payload, delivery: 'live' }, () => {
        if (!isTopicName(topic)) return done(new Error(`${topic} is no topic of a message`));
        const written = sessions()?.keep(packet) ?? null;
        if (written === null) done();
        else void written.then(() => done());
      });
    },
  };
  return {
    options,
    loginOf: (client) => access().loginOf(userOf(client)),
    hasGranted: (client, filter) => granted.get(client)?.has(filter) ?? false,
  };
}
