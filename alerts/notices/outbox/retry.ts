// When the next try is: doubling pauses with a jitter that depends on the row alone, and never before the receiver
// asked for (RFC 9110, 10.2.3 Retry-After). Pure.

import { createHash } from 'node:crypto';
import { type EpochMillis, MILLIS_PER_HOUR, MILLIS_PER_SECOND } from '../../../wax/units.ts';
import type { Channel } from './outbox-row.ts';

/** Common practice, no source. */
const FIRST_MILLIS = 5 * MILLIS_PER_SECOND;
/** An alarm on a phone is worth trying more often than a letter. */
const LONGEST_MILLIS: Readonly<Record<Channel, number>> = {
  push: 60_000,
  mail: 300_000,
  webhook: 300_000,
  lamp: 60_000,
  mqtt: 60_000,
};
/** A receiver that demands a longer wait is tried again after this. */
const LONGEST_RETRY_AFTER_MILLIS = MILLIS_PER_HOUR;
const JITTER = 0.25;

/** How long each kind of channel is tried: a phone that rings after hours is alarmed for nothing. */
export const KEEP_TRYING_MILLIS: Readonly<Record<Channel, number>> = {
  push: 4 * MILLIS_PER_HOUR,
  mail: 24 * MILLIS_PER_HOUR,
  webhook: 24 * MILLIS_PER_HOUR,
  lamp: MILLIS_PER_HOUR,
  mqtt: 24 * MILLIS_PER_HOUR,
};

/** From 0 to 1, the same for the same row and attempt. */
const unitOf = (key: string, attempt: number): number =>
  createHash('sha256').update(`${key} ${attempt}`).digest().readUInt32BE(0) / 2 ** 32;

export function nextTryAt(
  row: { readonly key: string; readonly channel: Channel },
  attempts: number,
  retryAfterMillis: number | null,
  now: EpochMillis,
): EpochMillis {
  const plain = Math.min(FIRST_MILLIS * 2 ** (attempts - 1), LONGEST_MILLIS[row.channel]);
  const pause = plain * (1 + JITTER * (2 * unitOf(row.key, attempts) - 1));
  const asked = Math.min(retryAfterMillis ?? 0, LONGEST_RETRY_AFTER_MILLIS);
  return Math.round(now + Math.max(pause, asked)) as EpochMillis;
}

/** Milliseconds from a Retry-After of seconds or an HTTP date; null when there is none that can be read. */
export function retryAfterMillis(header: string | undefined | null, now: EpochMillis): number | null {
  const text = header?.trim() ?? '';
  if (/^\d{1,9}$/.test(text)) return Number(text) * MILLIS_PER_SECOND;
  const date = /[A-Za-z]{3}/.test(text) ? Date.parse(text) : Number.NaN;
  return Number.isNaN(date) ? null : Math.max(0, date - now);
}
