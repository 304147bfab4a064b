// The address of a webhook is a key to it. It is written and used, and shown to the persons who set it up alone: programs, the
// lab file and the audit trail, of which papers are made that leave the lab, have where it leads and not the rest.

import { createHash } from 'node:crypto';
import type { NotificationPlan, Webhook } from '../../../lab/notification-plan.ts';

const originOf = ({ url }: Webhook): string => (URL.canParse(url) ? `${new URL(url).origin}/` : '');

export const withoutWebhookKeys = (plan: NotificationPlan): NotificationPlan => ({
  ...plan,
  webhooks: plan.webhooks.map((webhook) => ({ ...webhook, url: originOf(webhook) })),
});

/** For the record: that a key changed shows, and for whoever would change it back unseen. */
export const withWebhookDigests = (plan: NotificationPlan) => ({
  ...withoutWebhookKeys(plan),
  webhooks: plan.webhooks.map((webhook) => ({
    ...webhook,
    url: originOf(webhook),
    urlSha256: createHash('sha256').update(webhook.url).digest('hex'),
  })),
});

/** A plan that comes back as it was shown keeps the addresses that it did not see. */
export const withStoredWebhookKeys = (
  given: NotificationPlan,
  stored: NotificationPlan,
): NotificationPlan => ({
  ...given,
  webhooks: given.webhooks.map((webhook) => {
    const before = stored.webhooks.find(({ id }) => id === webhook.id);
    return before !== undefined && webhook.url === originOf(before)
      ? { ...webhook, url: before.url }
      : webhook;
  }),
});
