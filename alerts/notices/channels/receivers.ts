// Who is at the other end of each channel now, and by which name people know them.

import type { Lab } from '../../../lab/lab.ts';
import { notificationPlanOf } from '../../../lab/notification-plan.ts';
import { MQTT_ADDRESS } from '../outbox/channel-health.ts';
import type { Channel } from '../outbox/outbox-row.ts';
import type { Subscriptions } from './subscriptions.ts';

export interface Receivers {
  /** Addresses to which notices of this channel go. */
  readonly addresses: (channel: Channel) => readonly string[];
  /** Empty where the channel has one receiver alone, the broker. */
  readonly nameOf: (channel: Channel, address: string) => string;
}

export function receivers(
  lab: () => Lab,
  subscriptions: Pick<Subscriptions, 'all' | 'find'>,
  mailIsSetUp: () => boolean,
): Receivers {
  const personName = (id: string): string => lab().people.find((person) => person.id === id)?.name ?? id;
  const addresses: Readonly<Record<Channel, () => readonly string[]>> = {
    push: () => subscriptions.all().map(({ id }) => id),
    mail: () => (mailIsSetUp() ? lab().people.flatMap(({ id, email }) => (email === null ? [] : [id])) : []),
    webhook: () => notificationPlanOf(lab()).webhooks.map(({ id }) => id),
    lamp: () => notificationPlanOf(lab()).lampTopics,
    mqtt: () => [MQTT_ADDRESS],
  };
  const names: Readonly<Record<Channel, (address: string) => string>> = {
    push: (id) => {
      const phone = subscriptions.find(id);
      return phone === null ? id : [phone.name, personName(phone.person)].filter(Boolean).join(', ');
    },
    mail: personName,
    webhook: (id) => notificationPlanOf(lab()).webhooks.find((webhook) => webhook.id === id)?.name ?? id,
    lamp: (topic) => topic,
    mqtt: () => '',
  };
  return {
    addresses: (channel) => addresses[channel](),
    nameOf: (channel, address) => names[channel](address),
  };
}
