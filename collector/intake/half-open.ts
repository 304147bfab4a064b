// Messages of QoS 2 that wait for their release. The library passes a message on when it comes and keeps it whole until its
// release, of which it then checks only whether it was there: a client that never releases could fill the memory.

import type { Aedes } from 'aedes';

interface WaitingMessages {
  incomingStorePacket: (
    client: object,
    packet: { readonly topic: string; readonly payload: unknown },
  ) => Promise<void>;
}

/** From now on what waits is kept by its number alone. The broker must be listening: it has no store before. */
export function keepNoPayloads(aedes: Aedes): void {
  const { persistence } = aedes as unknown as { readonly persistence: WaitingMessages };
  const store = persistence.incomingStorePacket.bind(persistence);
  persistence.incomingStorePacket = (client, packet) => store(client, { ...packet, topic: '', payload: '' });
}
