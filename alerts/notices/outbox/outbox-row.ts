// A line of the outbox: one notice to one address by one channel, with everything that sending it needs, so that
// nothing has to be looked up that may be gone by then.

import type { EpochMillis } from '../../../wax/units.ts';
import type { Alarm, AlarmChange } from '../../watch/life/alarm.ts';
import type { NoticeKind } from '../duty/escalation.ts';
import type { SendAnswer } from './send-answer.ts';

export const CHANNELS = ['push', 'mail', 'webhook', 'lamp', 'mqtt'] as const;
export type Channel = (typeof CHANNELS)[number];

/** `waiting` and `sending` may still change; the others are final. */
export const OUTBOX_STATES = ['waiting', 'sending', 'delivered', 'expired', 'failed', 'withdrawn'] as const;
export type OutboxState = (typeof OUTBOX_STATES)[number];

/** `change` goes to machines, whatever changed; `account` to the person whose account it is. */
export type RowKind = NoticeKind | 'change' | 'test' | 'account';

export interface OutboxBody {
  readonly at: EpochMillis;
  /** Null for a heartbeat, a test and an account. */
  readonly alarm: Alarm | null;
  /** Of what was shelved: by whom. */
  readonly by?: string;
  /** Of a change: which, by whom and why. */
  readonly change?: Pick<AlarmChange, 'kind' | 'by' | 'reason'>;
  /** Of an account: what was done with it, and from which address of the network. */
  readonly account?: {
    readonly what:
      | 'signed_in'
      | 'password_set'
      | 'email_changed'
      | 'second_factor_on'
      | 'second_factor_off'
      | 'recovery_code_used';
    readonly from: string;
    /** The mailbox to write to, where it is no longer that of the person. */
    readonly mailbox?: string;
  };
  /** Of a test: what the phone reports back. */
  readonly test?: string;
}

export interface OutboxRow {
  readonly number: number;
  /** The same change to the same address is written once. It goes along, so that a receiver can tell a repeat. */
  readonly key: string;
  readonly channel: Channel;
  /** Id of a subscription, a person (mail), a webhook, or a topic (lamp). */
  readonly address: string;
  /** Null where no person reads it. */
  readonly person: string | null;
  /** What a later notice of the same topic replaces: the alarm's id. */
  readonly topic: string;
  /** Rows of one lane of an address go in order; see lane.ts. */
  readonly lane: string;
  readonly kind: RowKind;
  readonly body: OutboxBody;
  readonly state: OutboxState;
  readonly attempts: number;
  readonly createdAt: EpochMillis;
  readonly nextAt: EpochMillis;
  readonly expiresAt: EpochMillis;
  readonly endedAt: EpochMillis | null;
  /** It may have gone out before: the process ended between sending and writing that down. */
  readonly isRepeat: boolean;
  /** The last answer; null before the first. */
  readonly answer: SendAnswer | null;
}

/** Rows that one send carries to one address. */
export interface OutboxMessage {
  /** Oldest first; more than one only to persons. */
  readonly rows: readonly [OutboxRow, ...OutboxRow[]];
  /** Under which a phone shows it: a later message of the same tag takes its place. */
  readonly tag: string;
  /** Other tags under which the phone may still show alarms of this message. */
  readonly replaces: readonly string[];
  /** Rows of alarms that an earlier message of this tag named and this one does not. */
  readonly rest: readonly OutboxRow[];
}

export type NewRow = Pick<
  OutboxRow,
  'key' | 'channel' | 'address' | 'person' | 'topic' | 'kind' | 'body' | 'createdAt' | 'nextAt' | 'expiresAt'
>;

/** The outcome of one try. */
export type SendOutcome =
  | { readonly kind: 'delivered'; readonly answer: SendAnswer }
  | { readonly kind: 'retry'; readonly answer: SendAnswer; readonly retryAfterMillis: number | null }
  /** The address no longer exists: nothing goes there again. */
  | { readonly kind: 'gone'; readonly answer: SendAnswer }
  /** Another try would be refused as well. */
  | { readonly kind: 'refused'; readonly answer: SendAnswer };
