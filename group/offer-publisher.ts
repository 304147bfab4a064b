// Brings what is offered to the labs of the partitions that this copy holds: one retained message a lab, published when
// something of it changed, and anew on every connection, since a broker may have lost what it retained.

import type { ClientBase } from 'pg';
import { type Offer, offersMessage, offersTopic } from '../lab/group/group-offer.ts';
import type { PartitionSession } from './partition-session.ts';
import { besideTransactions } from './transaction.ts';

export interface OfferPublisher {
  readonly publishDue: (sessions: ReadonlyMap<number, PartitionSession>) => Promise<void>;
}

interface OfferedSite {
  readonly site: string;
  readonly partition: number;
  readonly revision: string;
}

const OPEN = `SELECT body FROM offer JOIN offer_site ON offer_id = id WHERE site = $1 AND state = 'open' ORDER BY offered_at, id`;

/** `client`: the one that holds the locks of the partitions, so that nobody publishes for a partition that it has lost. */
export function openOfferPublisher(client: ClientBase, now: () => number): OfferPublisher {
  /** By site: revision and connection that were published last. */
  const published = new Map<string, string>();

  const publish = async ({ site, revision }: OfferedSite, session: PartitionSession): Promise<void> => {
    const key = `${revision} ${session.connections()}`;
    if (published.get(site) === key) return;
    const { rows } = await besideTransactions(() => client.query<{ body: Offer }>(OPEN, [site]));
    const message = offersMessage(
      site,
      now(),
      rows.map(({ body }) => body),
    );
    published.set(site, key);
    // Not awaited: a broker that does not answer must not hold up the locks. What failed is due again.
    session.publish(offersTopic(site), JSON.stringify(message)).catch(() => {
      if (published.get(site) === key) published.delete(site);
    });
  };

  return {
    publishDue: async (sessions) => {
      const connected = [...sessions].filter(([, session]) => session.isConnected());
      if (connected.length === 0) return;
      const { rows } = await besideTransactions(() =>
        client.query<OfferedSite>(
          'SELECT site, partition, max(revision) AS revision FROM offer_site WHERE partition = ANY ($1) GROUP BY site, partition',
          [connected.map(([partition]) => partition)],
        ),
      );
      for (const offered of rows) {
        const session = sessions.get(offered.partition);
        if (session !== undefined) await publish(offered, session);
      }
    },
  };
}
