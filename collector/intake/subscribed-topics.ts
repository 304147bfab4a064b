// Whether a client that is connected to the own broker has subscribed to a topic.

import type { Aedes } from 'aedes';
import { filterTakes } from './broker-side.ts';

/** As the library keeps them; those of a session are among them once its client is back. */
interface ConnectedClients {
  readonly clients: Readonly<Record<string, { readonly subscriptions: Readonly<Record<string, unknown>> }>>;
}

/** Returns for a topic, as things are when it is called. */
export function subscribedTopics(aedes: Aedes): (topic: string) => boolean {
  const { clients } = aedes as unknown as ConnectedClients;
  return (topic) =>
    Object.values(clients).some(({ subscriptions }) =>
      Object.keys(subscriptions).some((filter) => filterTakes(filter, topic)),
    );
}
