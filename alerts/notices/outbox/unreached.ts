// Keeps whether open alarms reach anybody, and reports when that changes: they do not, once one was delivered to no
// person; they do, once each of them was or a phone subscribed. The wall shows it, because no message would arrive.

import type { Alarm } from '../../watch/life/alarm.ts';
import { deliveryOf, type FailedChannel } from './delivery.ts';
import { isCall } from './lane.ts';
import type { Outbox } from './outbox.ts';
import type { OutboxRow } from './outbox-row.ts';

/** Why it changed. */
export type ReachCause =
  | { readonly code: 'last-phone-unsubscribed' | 'phone-subscribed' | 'message-delivered' }
  /** None of these people has a phone or an e-mail address. */
  | { readonly code: 'no-channel'; readonly people: readonly string[] }
  | { readonly code: 'channels-failed'; readonly channels: readonly FailedChannel[] };

export interface UnreachedParts {
  readonly outbox: Pick<Outbox, 'toPeople'>;
  /** Nobody has acknowledged it and it is not over. */
  readonly isOpen: (alarm: string) => boolean;
  readonly report: (isReaching: boolean, cause: ReachCause) => void;
}

export interface UnreachedAlarms {
  /** There was no channel at all to these persons of a step. */
  readonly hadNoChannel: (alarm: Alarm, people: readonly string[]) => void;
  /** A line was tried, or its time ran out. */
  readonly tried: (row: OutboxRow, isDelivered: boolean) => void;
  readonly lastPhoneUnsubscribed: () => void;
  readonly phoneSubscribed: () => void;
}

/** Alarms about notices themselves: the wall shows them, and that they reach nobody is nothing new. */
const ABOUT_NOTICES: readonly Alarm['rule'][] = ['channel-failing', 'nobody-subscribed'];

export function unreachedAlarms({ outbox, isOpen, report }: UnreachedParts): UnreachedAlarms {
  const unreached = new Set<string>();
  /** Null: not known since the start; the alarm about it may be open from before. */
  let isReaching: boolean | null = null;
  const reportChange = (reaches: boolean, cause: ReachCause): void => {
    if (isReaching === reaches) return;
    isReaching = reaches;
    report(reaches, cause);
  };
  const checkDelivery = (alarm: Alarm, people: readonly string[]): void => {
    if (ABOUT_NOTICES.includes(alarm.rule)) return;
    const delivery = deliveryOf(outbox.toPeople(alarm));
    if (delivery.kind === 'delivered') unreached.delete(alarm.id);
    if (delivery.kind !== 'failed' || !isOpen(alarm.id)) return;
    unreached.add(alarm.id);
    const { channels } = delivery;
    reportChange(
      false,
      channels.length > 0 ? { code: 'channels-failed', channels } : { code: 'no-channel', people },
    );
  };
  return {
    hadNoChannel: checkDelivery,
    tried: (row, isDelivered) => {
      if (row.person === null) return;
      if (isCall(row.kind) && row.body.alarm !== null) checkDelivery(row.body.alarm, []);
      if (!isDelivered) return;
      for (const alarm of unreached) if (!isOpen(alarm)) unreached.delete(alarm);
      if (unreached.size === 0) reportChange(true, { code: 'message-delivered' });
    },
    lastPhoneUnsubscribed: () => reportChange(false, { code: 'last-phone-unsubscribed' }),
    phoneSubscribed: () => {
      unreached.clear();
      reportChange(true, { code: 'phone-subscribed' });
    },
  };
}
