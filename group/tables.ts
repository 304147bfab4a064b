// The group's tables in PostgreSQL. Numbered steps, each run once, under a lock, so that several copies may start at once.

import type { ClientBase } from 'pg';
import { inTransaction } from './transaction.ts';

const STEPS: readonly string[] = [
  `CREATE TABLE lab (
     site text PRIMARY KEY, journal_offset bigint NOT NULL, sent_at timestamptz NOT NULL, standing jsonb NOT NULL,
     taken_at timestamptz NOT NULL
   );
   CREATE TABLE alarm_change (
     site text NOT NULL, alarm_id text NOT NULL, change text NOT NULL, at timestamptz NOT NULL,
     number bigint NOT NULL, person text, alarm jsonb NOT NULL,
     PRIMARY KEY (site, alarm_id, change, at)
   );
   CREATE INDEX alarm_change_at ON alarm_change (site, at);
   CREATE TABLE lab_minute (
     site text NOT NULL, at timestamptz NOT NULL, journal_offset bigint NOT NULL, sent_at timestamptz NOT NULL,
     probes jsonb NOT NULL, PRIMARY KEY (site, at)
   );
   CREATE TABLE lab_record (
     site text NOT NULL, kind text NOT NULL, id text NOT NULL, journal_offset bigint NOT NULL,
     sent_at timestamptz NOT NULL, body jsonb NOT NULL, PRIMARY KEY (site, kind, id)
   );
   CREATE TABLE refused_message (
     topic text PRIMARY KEY, reason text NOT NULL, times bigint NOT NULL, last_at timestamptz NOT NULL,
     sample bytea NOT NULL
   );
   CREATE TABLE group_person (
     name text PRIMARY KEY, key_hash bytea NOT NULL UNIQUE, added_at timestamptz NOT NULL
   );
   CREATE TABLE group_session (
     token_hash bytea PRIMARY KEY, name text NOT NULL REFERENCES group_person ON DELETE CASCADE,
     ends_at timestamptz NOT NULL
   );`,
  // By topic, one sender could make rows without end, and a topic too long for an index stopped the intake of all.
  `DROP TABLE refused_message;
   CREATE TABLE refused_message (
     site text NOT NULL, reason text NOT NULL, topic text NOT NULL, detail text NOT NULL, times bigint NOT NULL,
     last_at timestamptz NOT NULL, sample bytea NOT NULL, PRIMARY KEY (site, reason)
   );`,
  // Who signs in with an account elsewhere has no key; `site`: sees that lab only.
  `ALTER TABLE group_person ALTER COLUMN key_hash DROP NOT NULL, ADD COLUMN email text UNIQUE, ADD COLUMN site text;`,
  `CREATE TABLE lab_day (
     site text NOT NULL, date date NOT NULL, journal_offset bigint NOT NULL, sent_at timestamptz NOT NULL,
     body jsonb NOT NULL, PRIMARY KEY (site, date)
   );`,
  // What was stored before a server of series was named is not in it either.
  `ALTER TABLE lab_minute ADD COLUMN in_series boolean NOT NULL DEFAULT false;
   CREATE INDEX lab_minute_not_in_series ON lab_minute (at) WHERE NOT in_series;`,
  // An offer, and the answer of each lab that it is made to; the revision grows with every change of what a lab is offered.
  `ALTER TABLE group_person ADD COLUMN is_giver boolean NOT NULL DEFAULT false;
   CREATE TABLE lab_figures (
     site text PRIMARY KEY, journal_offset bigint NOT NULL, sent_at timestamptz NOT NULL, body jsonb NOT NULL
   );
   CREATE TABLE offer (id text PRIMARY KEY, body jsonb NOT NULL, offered_at timestamptz NOT NULL);
   CREATE SEQUENCE offer_revision;
   CREATE TABLE offer_site (
     offer_id text NOT NULL REFERENCES offer, site text NOT NULL, partition integer NOT NULL,
     state text NOT NULL DEFAULT 'open', answered_at timestamptz, answered_by text,
     revision bigint NOT NULL DEFAULT nextval('offer_revision'), PRIMARY KEY (offer_id, site)
   );
   CREATE INDEX offer_site_partition ON offer_site (partition, site);`,
];

/** Any number that no other program of the database uses for its locks. */
export const LOCK_SPACE = 0x77617802;
/** Beside the partitions: every copy shares the first, and the one that writes series holds the second. */
export const COPIES_KEY = 1000;
export const SERIES_KEY = 1001;
const MIGRATION_LOCK = 0x77617801;

export async function migrate(client: ClientBase): Promise<void> {
  await client.query('SELECT pg_advisory_lock($1)', [MIGRATION_LOCK]);
  try {
    await client.query(
      'CREATE TABLE IF NOT EXISTS migration (number integer PRIMARY KEY, ran_at timestamptz NOT NULL)',
    );
    const { rows } = await client.query<{ done: number }>(
      'SELECT coalesce(max(number), 0) AS done FROM migration',
    );
    const done = rows[0]?.done ?? 0;
    if (done > STEPS.length) throw new Error(`the database is of a newer version: step ${done}`);
    for (const [index, step] of STEPS.slice(done).entries())
      await inTransaction(client, async () => {
        await client.query(step);
        await client.query('INSERT INTO migration VALUES ($1, now())', [done + index + 1]);
      });
  } finally {
    await client.query('SELECT pg_advisory_unlock($1)', [MIGRATION_LOCK]);
  }
}
