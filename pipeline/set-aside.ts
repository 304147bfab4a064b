// What is done with an entry that cannot be judged or committed because of what it holds: it goes into quarantine in
// place of its effect, so that one entry never stops the rules for good. Pure.

import { SAMPLE_BYTES } from '../collector/decode/rejection.ts';
import type { Tail } from '../collector/journal/journal.ts';
import type { Entry, RejectionEntry } from '../lab/entry.ts';
import { ProblemError, reasonOf } from '../wax/problem-error.ts';
import type { EpochMillis } from '../wax/units.ts';

/** What happened at last, for the health of the program. */
export interface SetAside {
  /** Arrival of the entry. */
  readonly at: EpochMillis;
  readonly kind: Entry['kind'];
  readonly reason: string;
}

/** A disk, database or server that refuses does so with a code and is tried again; anything else lies in the entry. */
export const liesInEntry = (error: unknown): boolean => !(error instanceof ProblemError);

/** The first entry alone, with the damage before it. */
export function firstOf(tail: Tail): Tail {
  const [entry] = tail.entries;
  const [after] = tail.offsets;
  if (entry === undefined || after === undefined || tail.entries.length === 1) return tail;
  return {
    entries: [entry],
    offsets: [after],
    next: after,
    damaged: tail.damaged.filter(({ at }) => at < after),
  };
}

const topicOf = (entry: Entry, site: string): string =>
  'gateway' in entry ? `wax/${site}/${entry.gateway}` : `wax/${site}/collector/${entry.kind}`;

const REASON_LENGTH = 200;

export const setAsideOf = (entry: Entry, error: unknown): SetAside => ({
  at: entry.receivedAt,
  kind: entry.kind,
  reason: reasonOf(error).slice(0, REASON_LENGTH),
});

/** The entry as a rejection, with the first kilobyte of it. */
export function rejectionFor(entry: Entry, { kind, reason }: SetAside, site: string): RejectionEntry {
  const whole = Buffer.from(JSON.stringify(entry));
  return {
    kind: 'rejection',
    receivedAt: entry.receivedAt,
    topic: topicOf(entry, site),
    code: 'entry-set-aside',
    values: { kind, reason },
    sample_base64: whole.subarray(0, SAMPLE_BYTES).toString('base64'),
    bytes: whole.length,
    times: 1,
  };
}
