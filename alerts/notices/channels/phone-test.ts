// A test of one phone: a push that takes the route of an alarm, and what the phone reports once it is shown.

import { type EpochMillis, MILLIS_PER_MINUTE } from '../../../wax/units.ts';
import type { NewRow } from '../outbox/outbox-row.ts';
import type { AcknowledgeLinks } from './acknowledge-link.ts';
import type { Subscription, Subscriptions } from './subscriptions.ts';

const TEST_MILLIS = 5 * MILLIS_PER_MINUTE;
const TEST_SUBJECT = 'test ';

/** The row to send, and the token that the phone reports back. */
export function phoneTest(
  { id, person }: Subscription,
  links: AcknowledgeLinks,
  at: EpochMillis,
): { readonly row: NewRow; readonly token: string } {
  const token = links.make({ alarm: `${TEST_SUBJECT}${id}`, count: 0, person }, at);
  const row: NewRow = {
    key: `test.${id}.${at}`,
    channel: 'push',
    address: id,
    person,
    topic: 'test',
    kind: 'test',
    body: { at, alarm: null, test: token },
    createdAt: at,
    nextAt: at,
    expiresAt: (at + TEST_MILLIS) as EpochMillis,
  };
  return { row, token };
}

/** The phone showed the test. False when there was no such test, or one of another phone. */
export function testShown(
  person: string,
  token: string,
  links: AcknowledgeLinks,
  subscriptions: Subscriptions,
  now: EpochMillis,
): boolean {
  const link = links.check(token, now);
  if (!link.ok || link.value.person !== person || !link.value.alarm.startsWith(TEST_SUBJECT)) return false;
  const subscription = subscriptions.find(link.value.alarm.slice(TEST_SUBJECT.length));
  if (subscription === null || !links.use(link.value.nonce, now)) return false;
  subscriptions.tested(subscription.id, now);
  return true;
}
