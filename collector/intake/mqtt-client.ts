// What the MQTT library leaves to its users: an end that comes even when the broker no longer answers, which messages a
// broker acknowledged and handed to nobody, and whether it refused the version of the protocol.

import type { MqttClient } from 'mqtt';
import { errorCode } from '../../wax/problem-error.ts';

/** How long the last messages may wait for their acknowledgement. */
const GOODBYE_MILLIS = 1000;
/** No matching subscribers (MQTT 5, 3.4.2.1). */
const NOBODY_SUBSCRIBED = 16;
/** Unacceptable protocol version (MQTT 3.1.1, table 3.1); unsupported protocol version (MQTT 5, 3.2.2.2). */
const VERSION_REFUSALS: ReadonlySet<unknown> = new Set([1, 0x84]);

/**
 * Ends the client: what is on its way is waited for, for a second at most; then its last will reports that it is gone.
 * The library's own end waits for ever for an acknowledgement that a lost or frozen broker no longer sends, and a second
 * call of it, even a forced one, does nothing.
 */
export async function endClient(client: MqttClient): Promise<void> {
  if (client.connected && !isSettled(client)) await awaitSettled(client);
  const isAnswered = client.connected && isSettled(client);
  const limit = setTimeout(() => client.stream.destroy(), GOODBYE_MILLIS);
  await client.endAsync(!isAnswered);
  clearTimeout(limit);
}

const isSettled = (client: MqttClient): boolean => Object.keys(client.outgoing).length === 0;

/** Resolves then, or when the time is up. */
const awaitSettled = (client: MqttClient): Promise<void> =>
  new Promise((resolve) => {
    const limit = setTimeout(resolve, GOODBYE_MILLIS);
    const settle = (): void => {
      clearTimeout(limit);
      resolve();
    };
    client.once('outgoingEmpty', settle);
    client.once('close', settle);
  });

/** Ids of the messages that reached nobody, kept up to date: the library reports them as successes. */
export function unreceivedMessages(client: MqttClient): Set<number> {
  const messageIds = new Set<number>();
  client.on('packetreceive', (packet) => {
    if (packet.cmd !== 'puback' || packet.messageId === undefined) return;
    if (packet.reasonCode === NOBODY_SUBSCRIBED) messageIds.add(packet.messageId);
    else messageIds.delete(packet.messageId);
  });
  return messageIds;
}

/** The broker does not have the version of MQTT in which it was addressed. */
export const isVersionRefusal = (error: unknown): boolean => VERSION_REFUSALS.has(errorCode(error));
