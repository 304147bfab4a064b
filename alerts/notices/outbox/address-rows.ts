// From a notice to lines of the outbox: each person's phones and e-mail by that person's own wish. Pure.
// The failure of an address is never sent to that address.

import type { Lab } from '../../../lab/lab.ts';
import { notificationPlanOf } from '../../../lab/notification-plan.ts';
import type { EpochMillis } from '../../../wax/units.ts';
import type { AlarmChange } from '../../watch/life/alarm.ts';
import { isHidden } from '../../watch/life/alarm-state.ts';
import { needsAcknowledgement, type Notice, type NoticeKind } from '../duty/escalation.ts';
import type { Channel, NewRow, OutboxBody, RowKind } from './outbox-row.ts';
import { KEEP_TRYING_MILLIS } from './retry.ts';

export interface Reach {
  /** Ids of the phones' subscriptions of a person. */
  readonly phones: (person: string) => readonly string[];
  readonly mailIsSetUp: boolean;
  /** Every try fails: notices to failing phones go by e-mail too. */
  readonly isFailing: (channel: Channel, address: string) => boolean;
}

const row = (
  channel: Channel,
  address: string,
  person: string | null,
  notice: Pick<Notice, 'key' | 'at' | 'alarm'> & { readonly kind: RowKind },
  learnedAt: EpochMillis,
  more: Partial<OutboxBody> = {},
): NewRow => ({
  key: `${notice.key}>${channel}:${address}`,
  channel,
  address,
  person,
  topic: notice.alarm?.id ?? notice.kind,
  kind: notice.kind,
  body: { at: notice.at, alarm: notice.alarm, ...more },
  createdAt: learnedAt,
  // What must wake nobody waits for the opening and does not expire before.
  nextAt: Math.max(learnedAt, notice.at) as EpochMillis,
  expiresAt: (Math.max(learnedAt, notice.at) + KEEP_TRYING_MILLIS[channel]) as EpochMillis,
});

const isOwnFailure = (
  { alarm }: Pick<Notice, 'alarm'>,
  channel: Channel,
  address: string,
  reach: Reach,
): boolean =>
  alarm?.rule === 'channel-failing' &&
  alarm.subject === `channel-${channel}` &&
  reach.isFailing(channel, address);

/** It goes to every mailbox that got the beginning, also where phones are reached again. */
const isEnd = (kind: NoticeKind): boolean =>
  kind === 'cleared' || kind === 'acknowledged' || kind === 'put-aside';

export function rowsForPeople(
  notice: Notice,
  lab: Lab,
  reach: Reach,
  learnedAt: EpochMillis,
): readonly NewRow[] {
  const by = notice.kind === 'put-aside' && notice.by != null ? { by: notice.by } : {};
  return notice.people.flatMap((id) => {
    const person = lab.people.find((candidate) => candidate.id === id);
    if (person === undefined) return [];
    const phones = reach.phones(id).filter((phone) => !isOwnFailure(notice, 'push', phone, reach));
    const wish = person.mail ?? 'no-phone';
    const isWithoutPhone = phones.every((phone) => reach.isFailing('push', phone)) || isEnd(notice.kind);
    const getsMail =
      reach.mailIsSetUp &&
      person.email !== null &&
      !isOwnFailure(notice, 'mail', id, reach) &&
      (wish === 'always' || (wish === 'no-phone' && isWithoutPhone));
    return [
      ...phones.map((phone) => row('push', phone, id, notice, learnedAt, by)),
      ...(getsMail ? [row('mail', id, id, notice, learnedAt, by)] : []),
    ];
  });
}

/** Under which every change of an alarm is published. */
const changeTopic = (site: string, alarm: string): string => `wax/${site}/change/${alarm}`;

/** What a lamp or a buzzer acts on; null for what leaves it as it is. */
function lampKindOf({ alarm, kind }: AlarmChange): NoticeKind | null {
  switch (kind) {
    case 'raised':
    case 'raised-again':
    case 'unshelved':
    case 'unsuppressed':
    case 'returned-to-service':
      return needsAcknowledgement(alarm) ? 'raised' : null;
    case 'shelved':
    case 'suppressed':
    case 'out-of-service':
      return 'put-aside';
    case 'cleared':
    case 'acknowledged':
      return isHidden(alarm) ? null : kind;
    default:
      return null;
  }
}

/** Webhooks and the broker get every change, lamps those that concern them, whoever is on duty. */
export function rowsForMachines(
  alarmChange: AlarmChange,
  lab: Lab,
  reach: Reach,
  learnedAt: EpochMillis,
): readonly NewRow[] {
  const { alarm, at, by, kind, reason } = alarmChange;
  const key = `${alarm.id}.${alarm.count}.${kind}.${at}`;
  const { webhooks, lampTopics } = notificationPlanOf(lab);
  const change = { key, kind: 'change', at, alarm } as const;
  const more = { change: { kind, by, reason } };
  const lampKind = lampKindOf(alarmChange);
  const lines = [
    row('mqtt', changeTopic(lab.site.id, alarm.id), null, change, learnedAt, more),
    ...webhooks.map(({ id }) => row('webhook', id, null, change, learnedAt, more)),
    ...(lampKind === null
      ? []
      : lampTopics.map((topic) => row('lamp', topic, null, { ...change, kind: lampKind }, learnedAt))),
  ];
  return lines.filter(({ channel, address }) => !isOwnFailure(change, channel, address, reach));
}
