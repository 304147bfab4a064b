// A change of an alarm as machines get it, by webhook and over MQTT: one flat shape with a version, signed. Fields are
// only ever added within a version; docs/phone.md lists them.

import { createHmac } from 'node:crypto';
import type { Lab } from '../../../lab/lab.ts';
import { messageOf } from '../../../words/load-languages.ts';
import { PLAIN_ENGLISH } from '../../../words/quantity.ts';
import { ALARM_STATE_WORDS, alarmStateCode } from '../../watch/life/alarm-state.ts';
import type { OutboxRow } from '../outbox/outbox-row.ts';
import { alarmText } from '../texts/alarm-text.ts';
import { isoOrNull } from '../../../wax/iso.ts';

const CHANGE_VERSION = 1;

export type ChangeFacts = Readonly<Record<string, string | number | boolean | null>>;

const messageIn = ({ kind, body: { alarm } }: OutboxRow, lab: Lab): string | null => {
  if (kind === 'test') return messageOf('en', 'notice.test') ?? null;
  // No case leaves the lab on a wire: there a pattern has its id alone.
  return alarm === null ? null : alarmText(alarm, { ...lab, patterns: [] }, PLAIN_ENGLISH).message;
};

/** `at` is when it happened, `learned_at` when it came to be known. */
export function changeFacts(row: OutboxRow, lab: Lab): ChangeFacts {
  const { alarm, change } = row.body;
  return {
    version: CHANGE_VERSION,
    site: lab.site.id,
    kind: change?.kind ?? row.kind,
    at: isoOrNull(row.body.at),
    learned_at: isoOrNull(row.createdAt),
    by: change?.by ?? null,
    reason: change?.reason ?? null,
    key: row.key,
    repeat: row.isRepeat,
    alarm: alarm?.id ?? null,
    rule: alarm?.rule ?? null,
    subject: alarm?.subject ?? null,
    subject_kind: alarm?.subjectKind ?? null,
    priority: alarm?.priority ?? null,
    state: alarm === null ? null : ALARM_STATE_WORDS[alarmStateCode(alarm)],
    count: alarm?.count ?? null,
    raised_at: isoOrNull(alarm?.raisedAt),
    cleared_at: isoOrNull(alarm?.clearedAt),
    acknowledged_at: isoOrNull(alarm?.acknowledgedAt),
    acknowledged_by: alarm?.acknowledgedBy ?? null,
    shelved_until: isoOrNull(alarm?.shelvedUntil),
    message: messageIn(row, lab),
  };
}

/** Hex of HMAC-SHA256 over "<seconds> <text>". */
export const signatureOf = (secret: string, seconds: number, text: string): string =>
  createHmac('sha256', secret).update(`${seconds} ${text}`).digest('hex');

/**
 * For a wire without headers: the facts with `signed_at` (seconds since 1970) as JSON, and `signature` as the last
 * field, over that JSON without it.
 *
 * @example signMessage({ kind: 'raised' }, secret, 1) // '{"kind":"raised","signed_at":1,"signature":"…"}'
 */
export function signMessage(facts: ChangeFacts, secret: string, seconds: number): string {
  const text = JSON.stringify({ ...facts, signed_at: seconds });
  return `${text.slice(0, -1)},"signature":"${signatureOf(secret, seconds, text)}"}`;
}
