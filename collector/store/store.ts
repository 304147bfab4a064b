// What the store must do, whichever engine is behind it. One specification runs against every implementation.

import type { Connection } from '../../lab/database/database.ts';
import type { Reading } from '../../lab/reading.ts';
import { ProblemError } from '../../wax/problem-error.ts';
import type { EpochMillis } from '../../wax/units.ts';
import type { StationKind } from '../../lab/station-kinds.ts';
import type { PartHealth } from '../part-health.ts';
import type { Expiring } from './expired.ts';
import type { KindRetention, RetentionTable } from './retention.ts';

/** What is applied together or not at all. */
export interface Applied {
  readonly readings: readonly Reading[];
  /** Parts of the rule state that changed, by name, as JSON values. */
  readonly ruleState: Readonly<Record<string, unknown>>;
  /** Rows for other tables of the same transaction (alarm changes, outbox), written by their owners. */
  readonly alongside: readonly ((connection: Connection) => void)[];
  /** A power cut may undo this batch: the journal is on disk and gives the very same again. */
  readonly isRecomputable?: boolean;
  /** Journal offset after the last entry of the batch. */
  readonly offset: number;
}

/** The engine behind the store does not answer; what was applied is safe, and the call can be repeated. */
export class StoreAway extends ProblemError<'store-away'> {}

export interface SeriesBucket {
  /** Start of the bucket; the first one starts no earlier than the query. */
  readonly at: EpochMillis;
  readonly min: number;
  readonly max: number;
  readonly mean: number;
  readonly count: number;
  /** How many of `count` are not of quality `good`. */
  readonly doubtful: number;
}

export interface ReadingsQuery {
  readonly probe: string;
  readonly from: EpochMillis;
  /** Exclusive. */
  readonly to: EpochMillis;
  /** At most so many buckets; the extreme of a bucket is never lost. Buckets without readings are absent. */
  readonly points: number;
}

/** Kind of the station at which a probe hangs; null where it hangs nowhere. */
export type KindOf = (probe: string) => StationKind | null;

export interface StoreRetention extends RetentionTable {
  /** What `kinds` would delete at `now`. */
  readonly expiring: (
    kinds: readonly KindRetention[],
    now: EpochMillis,
    kindOf: KindOf,
  ) => readonly Expiring[];
}

/** How long a server keeps readings by a policy of its own. */
export interface ServerRetention {
  readonly server: string;
  /** `unknown`: it does not report it, or is away. */
  readonly keeps: 'forever' | 'days' | 'unknown';
  /** Null unless it keeps them for days. */
  readonly days: number | null;
}

export interface RefusedReadings {
  /** Newest first. */
  readonly readings: (limit: number) => readonly { readonly reading: Reading; readonly reason: string }[];
  /** Offers all of them to the engine once more and returns how many they are. */
  readonly sendAgain: () => number;
}

export interface Store {
  /** Commits everything of the batch in one transaction. A reading that is there already changes nothing. */
  apply(batch: Applied): Promise<void>;
  readonly offset: () => number;
  /** The journal before this offset is needed no more: everything up to it is in every engine behind the store. */
  readonly keepFrom: () => number;
  readonly ruleState: () => Readonly<Record<string, unknown>>;
  /** Downsampled by the store itself; a reader never blocks `apply`. */
  buckets(query: ReadingsQuery): Promise<readonly SeriesBucket[]>;
  /** Rows as they are, oldest first, at most `limit`. */
  raw(query: Omit<ReadingsQuery, 'points'> & { readonly limit: number }): Promise<readonly Reading[]>;
  /**
   * The value that is kept of the probe for exactly that instant, epoch milliseconds; null when there is none. Answered
   * from this machine's disk, so that a repeat is recognised while an engine is away.
   */
  readonly celsiusAt: (probe: string, at: number) => number | null;
  /**
   * What is due at `now` in the background: sealing readings of hours that are over, which changes no answer, and
   * deleting what is older than the retention of its station kind.
   */
  tidy(now: EpochMillis, kindOf: KindOf): Promise<void>;
  /** Null where the engine's own policy sets how long readings stay. */
  readonly retention: StoreRetention | null;
  /** That policy; null where `retention` sets how long they stay. */
  readonly serverRetention: (() => Promise<ServerRetention>) | null;
  /** Readings that the engine refused, each by itself; null where no engine can refuse any. */
  readonly setAside: RefusedReadings | null;
  /** Whether the engine answers, and how far it is behind the journal. */
  health(): Promise<PartHealth>;
  close(): Promise<void>;
}
