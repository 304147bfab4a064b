// From a notice to lines of the outbox: each person's phones and e-mail by that person's own wish. Pure.
// The failure of a channel is never sent over that channel.

import type { Lab } from '../../../lab/lab.ts';
import { notificationPlanOf } from '../../../lab/notification-plan.ts';
import type { EpochMillis } from '../../../wax/units.ts';
import type { AlarmChange } from '../../watch/life/alarm.ts';
import { isHidden } from '../../watch/life/alarm-state.ts';
import type { Notice } from '../duty/escalation.ts';
import type { Channel, NewRow } from './outbox-row.ts';
import { KEEP_TRYING_MILLIS } from './retry.ts';

export interface Reach {
  /** Ids of the phones' subscriptions of a person. */
  readonly phones: (person: string) => readonly string[];
  readonly mailIsSetUp: boolean;
}

const row = (
  channel: Channel,
  address: string,
  person: string | null,
  notice: Pick<Notice, 'key' | 'kind' | 'at' | 'alarm' | 'by'>,
): NewRow => ({
  key: `${notice.key}>${channel}:${address}`,
  channel,
  address,
  person,
  topic: notice.alarm?.id ?? notice.kind,
  kind: notice.kind,
  body: {
    at: notice.at,
    alarm: notice.alarm,
    ...(notice.kind === 'put-aside' && notice.by != null && { by: notice.by }),
  },
  createdAt: notice.at,
  nextAt: notice.at,
  expiresAt: (notice.at + KEEP_TRYING_MILLIS[channel]) as EpochMillis,
});

const isOwnFailure = (notice: Pick<Notice, 'alarm'>, channel: Channel): boolean =>
  notice.alarm?.rule === 'channel-failing' && notice.alarm.subject === `channel-${channel}`;

export function rowsForPeople(notice: Notice, lab: Lab, reach: Reach): readonly NewRow[] {
  return notice.people.flatMap((id) => {
    const person = lab.people.find((candidate) => candidate.id === id);
    if (person === undefined) return [];
    const phones = isOwnFailure(notice, 'push') ? [] : reach.phones(id);
    const wish = person.mail ?? 'no-phone';
    const getsMail =
      reach.mailIsSetUp &&
      person.email !== null &&
      !isOwnFailure(notice, 'mail') &&
      (wish === 'always' || (wish === 'no-phone' && phones.length === 0));
    return [
      ...phones.map((phone) => row('push', phone, id, notice)),
      ...(getsMail ? [row('mail', id, id, notice)] : []),
    ];
  });
}

const CHANGES_FOR_MACHINES = ['raised', 'raised-again', 'cleared', 'acknowledged'] as const;

/** Webhooks and lamps receive these changes of an alarm that is not hidden, whoever is on duty. */
export function rowsForMachines(change: AlarmChange, lab: Lab): readonly NewRow[] {
  const { alarm, at } = change;
  if (isHidden(alarm) || !(CHANGES_FOR_MACHINES as readonly string[]).includes(change.kind)) return [];
  const kind = change.kind === 'cleared' || change.kind === 'acknowledged' ? change.kind : 'raised';
  const notice = { key: `${alarm.id}.${alarm.count}.${change.kind}.${at}`, kind, at, alarm } as const;
  const { webhooks, lampTopics } = notificationPlanOf(lab);
  return [
    ...(isOwnFailure(notice, 'webhook') ? [] : webhooks.map(({ id }) => row('webhook', id, null, notice))),
    ...(isOwnFailure(notice, 'lamp') ? [] : lampTopics.map((topic) => row('lamp', topic, null, notice))),
  ];
}
