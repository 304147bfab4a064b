// Word to a person of what was done with their account: to each of their phones and to their mailbox, whatever they
// wish for alarms. Whoever got hold of one of them does not keep the others from reporting it. Pure.

import type { Person } from '../../../lab/person.ts';
import type { EpochMillis } from '../../../wax/units.ts';
import type { Reach } from './address-rows.ts';
import type { Channel, NewRow, OutboxBody } from './outbox-row.ts';
import { KEEP_TRYING_MILLIS } from './retry.ts';

export function accountRows(
  { id, email }: Person,
  account: NonNullable<OutboxBody['account']>,
  reach: Reach,
  at: EpochMillis,
): readonly NewRow[] {
  const topic = `account.${account.what}.${id}.${at}`;
  const row = (channel: Channel, address: string): NewRow => ({
    key: `${topic}>${channel}:${address}`,
    channel,
    address,
    person: id,
    topic,
    kind: 'account',
    body: { at, alarm: null, account },
    createdAt: at,
    nextAt: at,
    expiresAt: (at + KEEP_TRYING_MILLIS[channel]) as EpochMillis,
  });
  return [
    ...reach.phones(id).map((phone) => row('push', phone)),
    ...(reach.mailIsSetUp && email !== null ? [row('mail', id)] : []),
  ];
}
