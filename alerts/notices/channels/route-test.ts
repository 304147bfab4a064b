// A test of a route other than a phone's: one message that takes the way of an alarm, over the outbox.

import { type EpochMillis, MILLIS_PER_MINUTE } from '../../../wax/units.ts';
import type { Channel, NewRow } from '../outbox/outbox-row.ts';

const TEST_MILLIS = 5 * MILLIS_PER_MINUTE;

/** @param person who gets the e-mail; null for machines */
export const routeTest = (
  channel: Exclude<Channel, 'push'>,
  address: string,
  person: string | null,
  at: EpochMillis,
): NewRow => ({
  key: `test.${channel}.${address}.${at}`,
  channel,
  address,
  person,
  topic: 'test',
  kind: 'test',
  body: { at, alarm: null },
  createdAt: at,
  nextAt: at,
  expiresAt: (at + TEST_MILLIS) as EpochMillis,
});
