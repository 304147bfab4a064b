// One copy of the group's process. Advisory locks of PostgreSQL hold which copy holds which partition; the connection that
// holds them is the one that writes, so a copy that has lost its locks cannot write either. Copies share the partitions
// evenly, and what a copy held is free as soon as PostgreSQL sees its connection gone.

import type pg from 'pg';
import { pause } from '../collector/pause.ts';
import { GROUP_PARTITIONS } from '../lab/group/group-message.ts';
import { type ReportIntake, openIntake } from './intake.ts';
import { type Connected, type LastingConnection, startLasting } from './lasting-connection.ts';
import { type OfferPublisher, openOfferPublisher } from './offer-publisher.ts';
import { type GroupBroker, openPartitionSession, type PartitionSession } from './partition-session.ts';
import { COPIES_KEY, LOCK_SPACE, migrate } from './tables.ts';
import { besideTransactions } from './transaction.ts';

export interface CopySettings {
  readonly postgres: string;
  readonly broker: GroupBroker;
}

/** How often a copy looks for partitions that nobody holds: with what PostgreSQL needs below it, well under 10 s. */
const LOOK_MILLIS = 1000;
const RETRY_MILLIS = 1000;
const CONNECT_MILLIS = 5000;
/** An answer that takes longer means that the connection is dead. */
const ANSWER_MILLIS = 5000;
/** A copy whose machine is gone without a word: PostgreSQL sees it after 2 s + 3 × 1 s. */
const SEE_DEAD_COPIES =
  'SET tcp_keepalives_idle = 2; SET tcp_keepalives_interval = 1; SET tcp_keepalives_count = 3; SET tcp_user_timeout = 5000';
const KEEP_DAYS = 35;
const TIDY_MILLIS = 3_600_000;

class Tenure {
  readonly #client: pg.Client;
  readonly #intake: ReportIntake;
  readonly #sessions = new Map<number, PartitionSession>();
  readonly #offers: OfferPublisher;
  readonly #settings: CopySettings;
  readonly #log: (line: string) => void;

  constructor(client: pg.Client, intake: ReportIntake, settings: CopySettings, log: (line: string) => void) {
    this.#client = client;
    this.#intake = intake;
    this.#offers = openOfferPublisher(client, Date.now);
    this.#settings = settings;
    this.#log = log;
  }

  /** A query beside the transactions of intake. */
  #ask<Row extends pg.QueryResultRow>(
    text: string,
    values: readonly unknown[],
  ): Promise<pg.QueryResult<Row>> {
    return besideTransactions(() => this.#client.query<Row>(text, [...values]));
  }

  /** Gives up what is over the fair share, or takes what is free below it. */
  async balance(): Promise<void> {
    const { rows } = await this.#ask<{ copies: number }>(
      `SELECT count(*)::int AS copies FROM pg_locks WHERE locktype = 'advisory' AND classid = $1 AND objid = $2
         AND granted AND database = (SELECT oid FROM pg_database WHERE datname = current_database())`,
      [LOCK_SPACE, COPIES_KEY],
    );
    const share = Math.ceil(GROUP_PARTITIONS / Math.max(1, rows[0]?.copies ?? 1));
    const before = this.#sessions.size;
    while (this.#sessions.size > share) await this.#release();
    for (let partition = 0; partition < GROUP_PARTITIONS && this.#sessions.size < share; partition += 1)
      if (!this.#sessions.has(partition)) await this.#tryTake(partition);
    if (this.#sessions.size !== before)
      this.#log(`holds ${this.#sessions.size} of ${GROUP_PARTITIONS} partitions`);
  }

  publishOffers(): Promise<void> {
    return this.#offers.publishDue(this.#sessions);
  }

  /** Minutes stay long enough for a month's comparison. */
  async tidy(): Promise<void> {
    await this.#ask('DELETE FROM lab_minute WHERE at < now() - make_interval(days => $1)', [KEEP_DAYS]);
  }

  async #tryTake(partition: number): Promise<void> {
    const { rows } = await this.#ask<{ taken: boolean }>('SELECT pg_try_advisory_lock($1, $2) AS taken', [
      LOCK_SPACE,
      partition,
    ]);
    if (rows[0]?.taken !== true) return;
    this.#sessions.set(
      partition,
      openPartitionSession(partition, this.#settings.broker, this.#intake, this.#log),
    );
  }

  /** Its session ends before another copy can open it. */
  async #release(): Promise<void> {
    const [partition, session] = [...this.#sessions].at(-1) ?? [];
    if (partition === undefined || session === undefined) return;
    this.#sessions.delete(partition);
    await session.end();
    await this.#intake.settled();
    await this.#ask('SELECT pg_advisory_unlock($1, $2)', [LOCK_SPACE, partition]);
  }

  async end(): Promise<void> {
    const sessions = [...this.#sessions.values()];
    this.#sessions.clear();
    await Promise.all(sessions.map((session) => session.end()));
  }
}

export function startCopy(settings: CopySettings, log: (line: string) => void): LastingConnection {
  const hold = async ({ client, over, fail }: Connected): Promise<void> => {
    await client.query(SEE_DEAD_COPIES);
    await migrate(client);
    await client.query('SELECT pg_advisory_lock_shared($1, $2)', [LOCK_SPACE, COPIES_KEY]);
    const intake = openIntake(client, fail);
    const tenure = new Tenure(client, intake, settings, log);
    try {
      let tidiedAt = performance.now();
      while (!over.aborted) {
        if (performance.now() - tidiedAt > TIDY_MILLIS) {
          tidiedAt = performance.now();
          await tenure.tidy();
        }
        await tenure.balance();
        await tenure.publishOffers();
        await pause(LOOK_MILLIS, over);
      }
    } finally {
      await tenure.end();
    }
    await intake.settled();
  };
  return startLasting({
    connection: {
      connectionString: settings.postgres,
      connectionTimeoutMillis: CONNECT_MILLIS,
      query_timeout: ANSWER_MILLIS,
      application_name: 'waxwarden group',
    },
    retryMillis: RETRY_MILLIS,
    work: hold,
    onTrouble: (reason) => log(`PostgreSQL: ${reason}`),
  });
}
