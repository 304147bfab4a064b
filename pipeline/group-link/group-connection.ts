// The lab's own connection to the broker of its group. One message at a time is on its way, at QoS 1, so that the present
// can always go before the past and nothing need be sorted out after a break. The broker's answer settles a message;
// while there is none it stays in the lab.

import { connect, type MqttClient } from 'mqtt';
import { retryMillis } from '../../collector/intake/external-broker.ts';
import { endClient, isVersionRefusal, unreceivedMessages } from '../../collector/intake/mqtt-client.ts';
import { pause } from '../../collector/pause.ts';
import { OFFERS_MOST_BYTES, offersTopic } from '../../lab/group/group-offer.ts';
import type { GroupLink } from '../../lab/group/group-link.ts';
import { reasonOf } from '../../wax/problem-error.ts';
import { type Problem, problem } from '../../wax/result.ts';
import type { GroupItem, GroupQueue } from './group-queue.ts';

const KEEPALIVE_SECONDS = 30;
const CONNECT_MILLIS = 10_000;
/** A broker that has not answered for so long is as good as away. */
const ANSWER_MILLIS = 30_000;
/** How often it is looked at whether something is due that nothing announced, such as a minute that is over. */
const LOOK_MILLIS = 1000;
/** After a message that the broker refused, or that reached nobody. */
const REFUSED_MILLIS = 5000;

export interface GroupConnectionEvents {
  readonly connected: () => void;
  readonly unreachable: (reason: Problem) => void;
  /** Null: the group takes what is sent. */
  readonly trouble: (reason: Problem | null) => void;
  readonly delivered: () => void;
  /** What the group offers this lab. */
  readonly offered: (payload: Uint8Array) => void;
  readonly offersRefused: (reason: string) => void;
}

export interface GroupConnection {
  /** Something may be due. */
  readonly wake: () => void;
  readonly stop: () => Promise<void>;
}

const clientOf = (site: string, link: GroupLink, protocolVersion: 4 | 5): MqttClient =>
  connect(link.url, {
    clientId: `waxwarden-group-${site}`,
    protocolVersion,
    clean: true,
    keepalive: KEEPALIVE_SECONDS,
    connectTimeout: CONNECT_MILLIS,
    reconnectPeriod: 0,
    ...(link.user !== '' && { username: link.user }),
    ...(link.password !== '' && { password: link.password }),
    ...(link.authority !== '' && { ca: link.authority }),
    // The broker drops what is longer (MQTT 5, 3.1.2.11.4).
    ...(protocolVersion === 5 && { properties: { maximumPacketSize: 2 * OFFERS_MOST_BYTES } }),
  });

export function openGroupConnection(
  site: string,
  link: GroupLink,
  queue: GroupQueue,
  events: GroupConnectionEvents,
): GroupConnection {
  const stopping = new AbortController();
  let waking = new AbortController();
  let protocolVersion: 4 | 5 = 5;
  let client: MqttClient | null = null;

  const run = async (): Promise<void> => {
    for (let attempts = 0; !stopping.signal.aborted; attempts += 1) {
      const wasConnected = await connectOnce();
      if (wasConnected) attempts = 0;
      await pause(retryMillis(attempts, Math.random()), stopping.signal);
    }
  };

  /** A client for each connection: one that reconnects by itself would send old messages before the present. */
  const connectOnce = async (): Promise<boolean> => {
    const current = clientOf(site, link, protocolVersion);
    client = current;
    const closed = new AbortController();
    let latest = problem('group-broker-unreachable', { reason: 'closed' });
    let wasConnected = false;
    current.on('error', (error) => {
      if (isVersionRefusal(error)) protocolVersion = 4;
      latest = problem('group-broker-unreachable', { reason: reasonOf(error) });
    });
    current.once('connect', () => {
      wasConnected = true;
      queue.connected();
      events.connected();
      // QoS 0 does: the message is retained and complete, and a broker of NATS demands fewer rights for it.
      current.subscribe(offersTopic(site), { qos: 0 }, (error) => {
        if (error !== null && !closed.signal.aborted) events.offersRefused(reasonOf(error));
      });
      void deliverAll(current, closed.signal);
    });
    current.on('message', (topic, payload) => {
      if (topic === offersTopic(site)) events.offered(payload);
    });
    await new Promise<void>((done) => {
      current.once('close', () => {
        closed.abort();
        current.end(true);
        done();
      });
    });
    if (!stopping.signal.aborted) events.unreachable(latest);
    return wasConnected;
  };

  const deliverAll = async (current: MqttClient, closed: AbortSignal): Promise<void> => {
    const receivers = unreceivedMessages(current);
    while (!closed.aborted && !stopping.signal.aborted) {
      try {
        const item = await queue.next();
        if (item === null) await pause(LOOK_MILLIS, waking.signal);
        else await deliver(current, item, receivers, closed);
      } catch (error) {
        if (closed.aborted) return;
        events.trouble(problem('group-link-waits', { reason: reasonOf(error) }));
        await pause(REFUSED_MILLIS, closed);
      }
      if (waking.signal.aborted) waking = new AbortController();
    }
  };

  const deliver = async (
    current: MqttClient,
    { topic, payload, retain, delivered }: GroupItem,
    unreceived: Set<number>,
    closed: AbortSignal,
  ): Promise<void> => {
    const limit = new AbortController();
    void pause(ANSWER_MILLIS, AbortSignal.any([limit.signal, closed])).then(() => {
      if (!limit.signal.aborted && !closed.aborted) current.stream.destroy();
    });
    try {
      const packet = await current.publishAsync(topic, payload, { qos: 1, retain });
      const messageId = packet !== undefined && 'messageId' in packet ? packet.messageId : undefined;
      if (messageId !== undefined && unreceived.delete(messageId) && !retain) {
        events.trouble(problem('group-link-unreceived'));
        await pause(REFUSED_MILLIS, closed);
        return;
      }
    } finally {
      limit.abort();
    }
    delivered();
    events.delivered();
  };

  void run();
  return {
    wake: () => waking.abort(),
    stop: async () => {
      stopping.abort();
      waking.abort();
      const current = client;
      if (current === null || current.disconnected) return;
      await endClient(current);
    },
  };
}
