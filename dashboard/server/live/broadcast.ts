// The screens on the live stream: who is connected, what each is sent, and the beat that shows the line is alive.

import { type EventRing, eventRing } from './event-ring.ts';
import type { LiveClient } from './live-client.ts';
import { limitReached, type Place } from '../base/live-places.ts';

export interface Broadcast {
  readonly publish: (...event: Parameters<EventRing['push']>) => void;
  readonly clients: () => number;
  /** The limit that one more would exceed; null when there is room. */
  readonly limitReached: (asking: Place, most: number) => number | null;
  /** Welcomes a screen; `lastSeen` is the id that it names, null when it comes for the first time. */
  readonly join: (client: LiveClient, lastSeen: string | null) => void;
  readonly leave: (client: LiveClient) => void;
  readonly close: () => void;
}

const BEAT_MILLIS = 1000;
/** Some minutes of a busy lab of forty stations. */
const RING_EVENTS = 20_000;

/** `boot` names this run of the program in the ids of events; `now` gives the instant of a beat as ISO 8601. */
export const openBroadcast = (boot: string, now: () => string): Broadcast => {
  const ring = eventRing(boot, RING_EVENTS);
  const clients = new Set<LiveClient>();
  const beat = (client: LiveClient): void => client.notice('beat', ring.newestId(), { now: now() });
  const beatAll = (): void => {
    for (const client of clients) {
      if (client.stillWelcome()) {
        beat(client);
        continue;
      }
      client.end();
      clients.delete(client);
    }
  };
  const beats = setInterval(beatAll, BEAT_MILLIS);
  return {
    publish: (...facts) => {
      const event = ring.push(...facts);
      for (const client of clients) client.send(event);
    },
    clients: () => clients.size,
    limitReached: (asking, most) =>
      limitReached(
        [...clients].map(({ place }) => place),
        asking,
        most,
      ),
    join: (client, lastSeen) => {
      const missed = lastSeen === null ? [] : ring.since(lastSeen);
      if (missed === null) client.notice('restart', ring.newestId(), {});
      else for (const event of missed) client.send(event);
      beat(client);
      clients.add(client);
    },
    leave: (client) => clients.delete(client),
    close: () => {
      clearInterval(beats);
      for (const client of clients) client.end();
      clients.clear();
    },
  };
};
