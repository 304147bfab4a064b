// What the group offers its labs, in PostgreSQL, and what each lab has reported of its own figures. An offer changes
// nothing here or there: a manager of the lab accepts it, and the answer comes back as a report.

import { randomBytes } from 'node:crypto';
import type pg from 'pg';
import { type FiguresMessage, groupPartition, type OfferAnswer } from '../lab/group/group-message.ts';
import { MOST_OPEN_OFFERS, type Offer, type OfferItem } from '../lab/group/group-offer.ts';
import { inTransaction } from './transaction.ts';

/** Newest first; older ones stay in the database. */
const MOST_LISTED = 100;
const OFFER_ID_BYTES = 5;

export interface OfferedLab {
  readonly site: string;
  readonly name: string;
  readonly timeZone: string;
  /** Null until the lab has reported them. */
  readonly figures: FiguresMessage | null;
}

interface LabRow {
  readonly site: string;
  readonly name: string;
  readonly time_zone: string;
  readonly body: FiguresMessage | null;
}

export async function offeredLabs(pool: pg.Pool): Promise<readonly OfferedLab[]> {
  const { rows } = await pool.query<LabRow>(
    `SELECT site, left(standing ->> 'name', 200) AS name, standing ->> 'time_zone' AS time_zone, lab_figures.body
     FROM lab LEFT JOIN lab_figures USING (site) ORDER BY name, site`,
  );
  return rows.map(({ body, name, site, time_zone }) => ({ site, name, timeZone: time_zone, figures: body }));
}

export interface SiteAnswer {
  readonly site: string;
  readonly name: string;
  readonly timeZone: string;
  readonly state: 'open' | 'taken-back' | OfferAnswer;
  readonly answeredAt: number | null;
  /** Null also where the lab gives no names. */
  readonly answeredBy: string | null;
}

export interface SentOffer {
  readonly offer: Offer;
  readonly answers: readonly SiteAnswer[];
}

interface SentRow {
  readonly body: Offer;
  readonly site: string;
  readonly name: string | null;
  readonly time_zone: string | null;
  readonly state: SiteAnswer['state'];
  readonly answered_at: Date | null;
  readonly answered_by: string | null;
}

/** @param site sees what is offered to that lab only; null: all */
export async function sentOffers(pool: pg.Pool, site: string | null): Promise<readonly SentOffer[]> {
  const { rows } = await pool.query<SentRow>(
    `SELECT offer.body, offered.site, left(standing ->> 'name', 200) AS name, standing ->> 'time_zone' AS time_zone,
       state, answered_at, answered_by
     FROM (SELECT * FROM offer WHERE $1::text IS NULL OR id IN (SELECT offer_id FROM offer_site WHERE site = $1)
       ORDER BY offered_at DESC, id LIMIT ${MOST_LISTED}) offer
     JOIN offer_site offered ON offered.offer_id = offer.id LEFT JOIN lab USING (site)
     WHERE $1::text IS NULL OR offered.site = $1
     ORDER BY offered_at DESC, offer.id, name, offered.site`,
    [site],
  );
  const sent = new Map<string, { readonly offer: Offer; readonly answers: SiteAnswer[] }>();
  for (const { body, name, time_zone, answered_at, answered_by, ...row } of rows) {
    const sentOffer = sent.get(body.id) ?? { offer: body, answers: [] };
    sentOffer.answers.push({
      ...row,
      name: name ?? row.site,
      timeZone: time_zone ?? 'UTC',
      answeredBy: answered_by,
      answeredAt: answered_at?.getTime() ?? null,
    });
    sent.set(body.id, sentOffer);
  }
  return [...sent.values()];
}

export interface NewOffer {
  readonly note: string;
  readonly by: string;
  readonly items: readonly OfferItem[];
  readonly sites: readonly string[];
  readonly at: number;
}

/** False when one of the labs has as many open offers as it takes; nothing is sent then. */
export async function sendOffer(pool: pg.Pool, offered: NewOffer): Promise<boolean> {
  const { at, by, items, note, sites } = offered;
  const offer: Offer = {
    id: randomBytes(OFFER_ID_BYTES).toString('hex'),
    note,
    by,
    offered_at: new Date(at).toISOString(),
    items: [...items],
  };
  const client = await pool.connect();
  try {
    return await inTransaction(client, async () => {
      // Two that send at once must not pass the limit together.
      await client.query('LOCK TABLE offer_site IN SHARE ROW EXCLUSIVE MODE');
      const { rows } = await client.query(
        `SELECT site FROM offer_site WHERE site = ANY ($1) AND state = 'open' GROUP BY site HAVING count(*) >= $2`,
        [sites, MOST_OPEN_OFFERS],
      );
      if (rows.length > 0) return false;
      await client.query('INSERT INTO offer VALUES ($1, $2, $3)', [
        offer.id,
        JSON.stringify(offer),
        new Date(at),
      ]);
      await client.query(
        'INSERT INTO offer_site (offer_id, site, partition) SELECT $1, * FROM unnest($2::text[], $3::int[])',
        [offer.id, sites, sites.map(groupPartition)],
      );
      return true;
    });
  } finally {
    client.release();
  }
}

/** In every lab that has not answered it. A lab that answers before it sees that is right: its answer counts. */
export const takeBackOffer = async (pool: pg.Pool, id: string): Promise<void> => {
  await pool.query(
    `UPDATE offer_site SET state = 'taken-back', revision = nextval('offer_revision')
     WHERE offer_id = $1 AND state = 'open'`,
    [id],
  );
};
