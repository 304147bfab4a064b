// The client of a lab's own broker (MQTT 5, or 3.1.1 where the broker has no other): one fixed client id, a session
// that outlives us, at least once. PUBACKs are held back until the journal has the entries, many at a time. Sent by
// the library itself they would come one by one, each after a flush of the disk; so the library leaves a message
// unacknowledged and goes on, and the PUBACK is written here, to the very connection that the message came on and to
// no other.

import type { BrokerAnswer } from '../../lab/broker-answer.ts';
import { readFileSync } from 'node:fs';
import type { IClientOptions, MqttClient } from 'mqtt';
import { siteFilter } from '../decode/decode-message.ts';
import { reasonOf } from '../../wax/problem-error.ts';
import { problem } from '../../wax/result.ts';
import { epochMillis, SECONDS_PER_HOUR } from '../../wax/units.ts';
import { backlogMarker } from './backlog-marker.ts';
import { type BrokerEvents, type BrokerSide, collectorStateTopic, filterTakes } from './broker-side.ts';
import { holdAcknowledgements } from './hold-acknowledgements.ts';
import type { ExternalBroker } from './intake.ts';
import { IntakeRefusal } from './intake-refusal.ts';
import { endClient, unreceivedMessages } from './mqtt-client.ts';
import { type OlderProtocol, olderProtocol } from './older-protocol.ts';
import { connectInTurn } from './broker-servers.ts';
import { connectionSpan } from './connection-span.ts';
import { startSparkplugLink } from './sparkplug-link.ts';
import { watchAnswers } from './watch-answers.ts';

/** Longer than a works holiday: the broker keeps what gateways send while we are away. */
const SESSION_EXPIRY_SECONDS = 30 * 24 * SECONDS_PER_HOUR;
/** Messages that the broker may have on the way to us; they share commits, so few would be slow. */
const RECEIVE_MAXIMUM = 1000;
/** A restart within it is no absence. */
const WILL_DELAY_SECONDS = 5;
const KEEPALIVE_SECONDS = 30;
const CONNECT_MILLIS = 10_000;
const LEAST_RETRY_MILLIS = 500;
const MOST_RETRY_MILLIS = 30_000;

/** Doubles up to the most, and is spread over half to whole, so that a hall of clients does not come back at once. */
export const retryMillis = (attempts: number, random: number): number =>
  Math.min(LEAST_RETRY_MILLIS * 2 ** attempts, MOST_RETRY_MILLIS) * (0.5 + random / 2);

/** Makes the library acknowledge nothing and hand over the next message. */
const HELD = new Error('acknowledged when it is on disk');

// biome-ignore lint/complexity/noExcessiveLinesPerFunction: one connection, whose events share its state
export const startExternalBroker = (
  site: string,
  broker: ExternalBroker,
  events: BrokerEvents,
): BrokerSide => {
  const stateTopic = collectorStateTopic(site);
  const authority = authorityOf(broker);
  const client = connectInTurn(broker, optionsFor(site, stateTopic, authority));
  const older = olderProtocol(client, site);
  const sparkplug = startSparkplugLink(site, broker, authority, events);
  const marker = backlogMarker(client, site, () => reportConnected());
  const unreceived = unreceivedMessages(client);
  const acknowledgements = holdAcknowledgements();
  /** Newest payload by topic, for when the broker is back. */
  const unsent = new Map<string, { payload: string | Uint8Array; retain: boolean }>();
  let attempts = 0;
  let since = events.now();
  let latest = problem('broker-not-connected');
  let isPaused = false;
  const span = connectionSpan();
  /** Whether the broker or the network gave the reason of the end that comes. */
  let isEndExplained = false;
  const answers = watchAnswers(client, {
    isReading: () => events.whenFree() === null,
    onSilent: () => (latest = problem('broker-answers-nothing')),
    onAnswering: () => reportConnected(),
    unansweredMillis: broker.unansweredMillis,
  });

  const unreachable = () =>
    events.status({ state: 'unreachable', since: epochMillis(since), attempts, problem: latest });
  const reportConnected = () => {
    // A broker that acknowledged nothing must do so first.
    if (!client.connected || answers.isSilent()) return;
    // A session that is taken from us at every turn loses readings, also while we have it.
    if (span.isUnsteady()) unreachable();
    else events.status({ state: 'connected', since: epochMillis(since), isCatchingUp: marker.isBehind() });
  };
  const send = (topic: string, payload: string | Uint8Array, retain: boolean) => {
    older.sent(topic, payload);
    client.publish(topic, Buffer.from(payload), { qos: 1, retain }, () => {});
  };

  let followed: readonly string[] = [];
  /** A filter that the broker does not allow costs its own topics alone. */
  const followAll = () => {
    for (const filter of followed) client.subscribe(filter, { qos: 1, nl: true, rh: 1 }, () => {});
  };

  client.handleMessage = (packet, next) => {
    // Left unacknowledged: the broker sends it again after the start.
    if (isPaused) return next(HELD);
    // Our own last will comes back to us when we were away.
    if (marker.isOurs(packet) || packet.topic === stateTopic || older.isEcho(packet)) return next();
    marker.received();
    events.arrived(
      {
        topic: packet.topic,
        payload: typeof packet.payload === 'string' ? Buffer.from(packet.payload) : packet.payload,
        delivery: packet.retain ? 'retained' : marker.isBehind() ? 'queued' : 'live',
      },
      acknowledgements.of(client.stream, packet),
    );
    const outcome = packet.qos > 0 ? HELD : undefined;
    // Not handing over the next message holds the broker back by the window of the connection.
    const free = events.whenFree();
    if (free === null) next(outcome);
    else void free.then(() => next(outcome));
  };

  client.on('connect', ({ sessionPresent }) => {
    attempts = 0;
    isEndExplained = false;
    span.connected(reportConnected);
    client.options.reconnectPeriod = retryMillis(span.shortOnes(), Math.random());
    marker.connected(sessionPresent);
    void subscribe(client, site)
      .then(() => {
        since = events.now();
        reportConnected();
        followAll();
        marker.send();
        send(stateTopic, 'online', true);
        for (const [topic, { payload, retain }] of unsent) send(topic, payload, retain);
        unsent.clear();
      })
      .catch((error: unknown) => {
        latest = problem('broker-refuses-subscription', { reason: reasonOf(error) });
        unreachable();
      });
  });
  client.on('reconnect', () => {
    attempts += 1;
    client.options.reconnectPeriod = retryMillis(attempts, Math.random());
  });
  client.on('offline', () => {
    since = events.now();
  });
  client.on('error', (error) => {
    // When a name with several addresses refuses the connection, the error has no message of its own, only its parts do.
    if (!older.explains(error)) latest = problem('broker-connection-failed', { reason: reasonOf(error) });
    isEndExplained = true;
  });
  client.on('disconnect', (packet) => {
    latest = problem('broker-ended-connection', { reason: String(packet.reasonCode ?? 0) });
    isEndExplained = true;
  });
  const closed = () => {
    const wasConnected = span.ended();
    if (wasConnected && span.isUnsteady() && !answers.isSilent())
      latest = problem('broker-connection-short-lived', { client: clientId(site) });
    else if (wasConnected && !isEndExplained && !answers.isSilent())
      latest = problem('broker-connection-lost');
    unreachable();
  };
  client.on('close', closed);
  unreachable();

  return {
    deliver: (topic, payload) =>
      client.connected ? deliver(client, older, unreceived, site, topic, payload) : AWAY,
    publish: (topic, payload, retain) => {
      if (client.connected) send(topic, payload, retain);
      else unsent.set(topic, { payload, retain });
    },
    follow: (filters) => {
      const gone = followed.filter((filter) => !filters.includes(filter));
      followed = [...new Set(filters)];
      if (!client.connected) return;
      if (gone.length > 0) client.unsubscribe(gone, () => {});
      followAll();
    },
    pause: async () => {
      isPaused = true;
      await sparkplug.stop();
    },
    stop: async () => {
      acknowledgements.flush();
      client.removeListener('close', closed);
      span.stop();
      answers.stop();
      if (client.connected) send(stateTopic, 'offline', true);
      await endClient(client);
      marker.stop();
    },
  };
};

const AWAY: Promise<BrokerAnswer> = Promise.resolve({ kind: 'away' });

function deliver(
  client: MqttClient,
  older: OlderProtocol,
  unreceived: ReadonlySet<number>,
  site: string,
  topic: string,
  payload: string,
): Promise<BrokerAnswer> {
  older.sent(topic, payload);
  return new Promise((resolve) => {
    client.publish(topic, payload, { qos: 1, retain: false }, (error, packet) => {
      const messageId = packet !== undefined && 'messageId' in packet ? packet.messageId : undefined;
      if (error) resolve({ kind: 'refused', reason: reasonOf(error) });
      else if (messageId !== undefined && unreceived.has(messageId))
        resolve({ kind: 'taken', receivers: 'none' });
      // MQTT 3.1.1 has no answer for it; below our own subscription a broker may count us, though it sends us nothing.
      else if (older.isInUse() || filterTakes(siteFilter(site), topic))
        resolve({ kind: 'taken', receivers: 'unknown' });
      else resolve({ kind: 'taken', receivers: 'some' });
    });
  });
}

function authorityOf(broker: ExternalBroker): Buffer | null {
  if (broker.authority === undefined) return null;
  try {
    return readFileSync(broker.authority);
  } catch (cause) {
    throw new IntakeRefusal('broker-authority', { file: broker.authority }, cause);
  }
}

const clientId = (site: string): string => `waxwarden-${site}`;

function optionsFor(site: string, stateTopic: string, authority: Buffer | null): IClientOptions {
  return {
    clientId: clientId(site),
    protocolVersion: 5,
    clean: false,
    keepalive: KEEPALIVE_SECONDS,
    connectTimeout: CONNECT_MILLIS,
    reconnectPeriod: retryMillis(0, Math.random()),
    // A broker that refuses us now may be corrected while we wait.
    reconnectOnConnackError: true,
    resubscribe: false,
    // The library checks at each step of a message whether it is to be traced, even where it is not.
    log: () => {},
    properties: { sessionExpiryInterval: SESSION_EXPIRY_SECONDS, receiveMaximum: RECEIVE_MAXIMUM },
    will: {
      topic: stateTopic,
      payload: Buffer.from('offline'),
      qos: 1,
      retain: true,
      properties: { willDelayInterval: WILL_DELAY_SECONDS },
    },
    ...(authority === null ? {} : { ca: authority }),
  };
}

/**
 * Everything of the site, so that a mistyped topic is seen too, but not what we publish. Retained values come only
 * with a new session; states come on every connection, because a last will at QoS 0 is not queued for us.
 */
async function subscribe(client: MqttClient, site: string): Promise<void> {
  await client.subscribeAsync(siteFilter(site), { qos: 1, nl: true, rh: 1 });
  await client.subscribeAsync(`wax/${site}/+/state`, { qos: 1, nl: true, rh: 0 });
}
