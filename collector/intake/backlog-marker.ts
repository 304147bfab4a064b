// Distinguishes what the broker kept for us from what is sent right now. After a connection to a session that lived on, a
// marker of ours goes through the broker: queues keep their order, so what comes before it may be old and what
// comes after it is not. A plain number has no time of its own, so this is all that can be known of its age.

import { randomUUID } from 'node:crypto';
import type { IPublishPacket, MqttClient } from 'mqtt';

/** Without a marker (the broker may forbid it) and without a message for so long, nothing is queued any more. */
const QUIET_MILLIS = 10_000;
/** A broker that forbids the marker hands over what it kept well within this; what comes later is sent just then. */
const REFUSED_MILLIS = 60_000;

export const backlogMarker = (client: MqttClient, site: string, onCaughtUp: () => void) => {
  const topic = `wax/${site}/collector/marker`;
  let expected: string | null = null;
  let quiet: NodeJS.Timeout | null = null;
  let refused: NodeJS.Timeout | null = null;

  const forget = () => {
    expected = null;
    clearTimeout(quiet ?? undefined);
    clearTimeout(refused ?? undefined);
    quiet = null;
    refused = null;
  };
  const caughtUp = () => {
    forget();
    onCaughtUp();
  };
  return {
    connected: (sessionPresent: boolean): void => {
      forget();
      if (!sessionPresent) return;
      expected = randomUUID();
      quiet = setTimeout(caughtUp, QUIET_MILLIS);
    },
    /** After the subscriptions are granted. */
    send: (): void => {
      if (expected === null) return;
      const payload = expected;
      client.subscribe(topic, { qos: 1 }, () =>
        client.publish(topic, payload, { qos: 1 }, (error) => {
          if (error && expected === payload) refused ??= setTimeout(caughtUp, REFUSED_MILLIS);
        }),
      );
    },
    isOurs: (packet: IPublishPacket): boolean => {
      if (packet.topic !== topic) return false;
      if (packet.payload.toString() === expected) caughtUp();
      return true;
    },
    /** A message of somebody else has come, so the queue is not quiet. */
    received: (): void => {
      quiet?.refresh();
    },
    /** Whether a message that arrives now may have waited at the broker. */
    isBehind: (): boolean => expected !== null,
    stop: forget,
  };
};
