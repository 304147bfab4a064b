// Messages of labs into PostgreSQL, many in one transaction. Every write can be repeated: what arrives twice changes
// nothing, and a later message replaces an earlier one whatever came between. One that is older by the lab's offset and
// by its clock is the earlier one; a lab restored from a copy is behind in its offset, a clock set back in its time,
// and neither keeps its new messages out.

import type { ClientBase } from 'pg';
import type { GroupMessage, RefusalReason } from './decode.ts';
import { inTransaction } from './transaction.ts';

export interface RefusedMessage {
  readonly topic: string;
  readonly reason: RefusalReason;
  /** The error of PostgreSQL; empty when the contract covers it. */
  readonly detail: string;
  readonly sample: Uint8Array;
}

/** Screens listen to it, whichever copy has taken what a lab reported. */
export const STANDING_CHANNEL = 'group_standing';

const SAMPLE_BYTES = 1000;
const TEXT_LENGTH = 200;

/** Short, and without what PostgreSQL holds in no text. */
const storable = (text: string): string => text.slice(0, TEXT_LENGTH).replaceAll('\0', '');

const MESSAGES =
  'FROM jsonb_to_recordset($1) AS message (site text, "offset" bigint, sent_at timestamptz, body jsonb, place int)';

/** What is done where the row is there already: a later message replaces an earlier one. */
const replaceEarlier = (table: string, columns: string): string =>
  `DO UPDATE SET journal_offset = excluded.journal_offset, sent_at = excluded.sent_at, ${columns}
     WHERE ${table}.journal_offset <= excluded.journal_offset OR ${table}.sent_at <= excluded.sent_at`;

const WRITES: Readonly<Record<GroupMessage['kind'], string>> = {
  standing: `INSERT INTO lab SELECT DISTINCT ON (site) site, "offset", sent_at, body, now()
    ${MESSAGES}
    ORDER BY site, place DESC
    ON CONFLICT (site) ${replaceEarlier('lab', 'standing = excluded.standing, taken_at = excluded.taken_at')}`,
  alarm: `INSERT INTO alarm_change SELECT site, body #>> '{alarm,id}', body ->> 'change', (body ->> 'at')::timestamptz,
      "offset", body ->> 'by', body -> 'alarm'
    ${MESSAGES}
    ON CONFLICT DO NOTHING`,
  minute: `INSERT INTO lab_minute (site, at, journal_offset, sent_at, probes) SELECT DISTINCT ON (site, at) site, (body ->> 'at')::timestamptz AS at, "offset", sent_at,
      body -> 'probes'
    ${MESSAGES}
    ORDER BY site, at, place DESC
    ON CONFLICT (site, at) ${replaceEarlier('lab_minute', 'probes = excluded.probes, in_series = false')}`,
  day: `INSERT INTO lab_day SELECT DISTINCT ON (site, date) site, (body ->> 'date')::date AS date, "offset", sent_at, body
    ${MESSAGES}
    ORDER BY site, date, place DESC
    ON CONFLICT (site, date) ${replaceEarlier('lab_day', 'body = excluded.body')}`,
  charge: recordWrite('charge'),
  pattern: recordWrite('pattern'),
  figures: `INSERT INTO lab_figures SELECT DISTINCT ON (site) site, "offset", sent_at, body
    ${MESSAGES}
    ORDER BY site, place DESC
    ON CONFLICT (site) ${replaceEarlier('lab_figures', 'body = excluded.body')}`,
  // The first answer counts: a lab gives one.
  answer: `UPDATE offer_site SET state = answered.body ->> 'answer', answered_by = answered.body ->> 'by',
      answered_at = (answered.body ->> 'at')::timestamptz, revision = nextval('offer_revision')
    FROM (SELECT DISTINCT ON (site, body ->> 'offer') site, body
      FROM jsonb_to_recordset($1) AS message (site text, body jsonb, place int)
      ORDER BY site, body ->> 'offer', place) answered
    WHERE offer_site.site = answered.site AND offer_id = answered.body ->> 'offer' AND state IN ('open', 'taken-back')`,
};

function recordWrite(kind: 'charge' | 'pattern'): string {
  return `INSERT INTO lab_record SELECT DISTINCT ON (site, id) site, '${kind}', body ->> 'id' AS id, "offset", sent_at, body
    ${MESSAGES}
    ORDER BY site, id, place DESC
    ON CONFLICT (site, kind, id) ${replaceEarlier('lab_record', 'body = excluded.body')}`;
}

/** All of them or none. @throws the error of PostgreSQL */
export async function writeMessages(client: ClientBase, messages: readonly GroupMessage[]): Promise<void> {
  await inTransaction(client, async () => {
    for (const kind of Object.keys(WRITES) as readonly GroupMessage['kind'][]) {
      const rows = messages
        .filter((message) => message.kind === kind)
        .map(({ body }, place) => ({
          site: body.site,
          offset: body.offset,
          sent_at: body.sent_at,
          body,
          place,
        }));
      if (rows.length > 0) await client.query(WRITES[kind], [JSON.stringify(rows)]);
    }
    if (messages.some(({ kind }) => kind === 'standing'))
      await client.query('SELECT pg_notify($1, $2)', [STANDING_CHANNEL, '']);
  });
}

/**
 * One row a site and reason, however many topics and payloads are tried: the latest is stored as a sample.
 * @throws the error of PostgreSQL
 */
export async function writeRefused(client: ClientBase, messages: readonly RefusedMessage[]): Promise<void> {
  const rows = new Map<string, { readonly message: RefusedMessage; readonly times: number }>();
  for (const message of messages) {
    const key = `${siteOf(message)} ${message.reason}`;
    rows.set(key, { message, times: (rows.get(key)?.times ?? 0) + 1 });
  }
  for (const { message, times } of rows.values())
    await client.query(
      `INSERT INTO refused_message VALUES ($1, $2, $3, $4, $5, now(), $6)
       ON CONFLICT (site, reason) DO UPDATE SET topic = excluded.topic, detail = excluded.detail,
         times = refused_message.times + excluded.times, last_at = excluded.last_at, sample = excluded.sample`,
      [
        siteOf(message),
        message.reason,
        storable(message.topic),
        storable(message.detail),
        times,
        Buffer.from(message.sample.subarray(0, SAMPLE_BYTES)),
      ],
    );
}

/** By the topic: a broker that lets a lab publish below its own site only vouches for it. */
const siteOf = ({ topic }: RefusedMessage): string => storable(topic.split('/')[2] ?? '');
