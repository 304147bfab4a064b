// Whether a client that is connected to the own broker has subscribed to a topic.

import type { Aedes, Client } from 'aedes';
import { filterTakes } from './broker-side.ts';

/** Refused (MQTT 3.1.1, 3.9.3). */
const REFUSED = 128;

/** Answers the question for a topic, as things are when it is asked. */
export function subscribedTopics(aedes: Aedes): (topic: string) => boolean {
  const filters = new Map<Client, Set<string>>();
  aedes.on('subscribe', (subscriptions, client) => {
    const own = filters.get(client) ?? new Set<string>();
    for (const { topic, qos } of subscriptions) if (Number(qos) !== REFUSED) own.add(topic);
    filters.set(client, own);
  });
  aedes.on('unsubscribe', (topics, client) => {
    for (const topic of topics) filters.get(client)?.delete(topic);
  });
  aedes.on('clientDisconnect', (client) => {
    filters.delete(client);
  });
  return (topic) =>
    [...filters.values()].some((own) => [...own].some((filter) => filterTakes(filter, topic)));
}
