// A notice to a machine: JSON by the lab's template, signed with HMAC-SHA256 over time and body, so that the receiver
// can tell who sent it and when. Redirects are not followed: they could lead anywhere with a signed body.

import type { Lab } from '../../../lab/lab.ts';
import { notificationPlanOf } from '../../../lab/notification-plan.ts';
import type { EpochMillis } from '../../../wax/units.ts';
import { ClosedAddress, postGuarded } from './guarded-request.ts';
import type { OutboxRow, SendOutcome } from '../outbox/outbox-row.ts';
import { sendAnswer } from '../outbox/send-answer.ts';
import { retryAfterMillis } from '../outbox/retry.ts';
import type { Send } from '../outbox/runner.ts';
import { changeFacts, signatureOf } from './change-message.ts';

export interface WebhookParts {
  readonly lab: () => Lab;
  readonly secretOf: (webhook: string) => string;
  readonly now: () => EpochMillis;
  /** Hosts, with or without port, that may be reached although they lie on this machine or its network. */
  readonly webhookHosts: readonly string[];
}

const TIMEOUT_MILLIS = 10_000;

/** The template with each `{name}` as JSON text inside its quotes; without one all facts. */
function webhookBody(row: OutboxRow, lab: Lab, template: string | null): string {
  const facts = changeFacts(row, lab);
  if (template === null) return JSON.stringify(facts);
  return template.replace(/\{(\w+)\}/g, (whole, name: string) =>
    Object.hasOwn(facts, name) ? JSON.stringify(String(facts[name] ?? '')).slice(1, -1) : whole,
  );
}

export function webhookSender({ lab, secretOf, now, webhookHosts }: WebhookParts): Send {
  return async ({ rows: [row] }): Promise<SendOutcome> => {
    const webhook = notificationPlanOf(lab()).webhooks.find(({ id }) => id === row.address);
    if (webhook === undefined) return { kind: 'gone', answer: sendAnswer('webhook-removed') };
    const body = webhookBody(row, lab(), webhook.template);
    const at = now();
    const posted = await postGuarded({
      url: webhook.url,
      timeoutMillis: TIMEOUT_MILLIS,
      allowedHosts: webhookHosts,
      headers: {
        'content-type': 'application/json',
        'idempotency-key': row.key,
        'waxwarden-time': String(Math.floor(at / 1000)),
        'waxwarden-signature': signatureOf(secretOf(webhook.id), Math.floor(at / 1000), body),
      },
      body,
    }).catch((error: unknown) => {
      if (error instanceof ClosedAddress) return error;
      throw error;
    });
    if (posted instanceof ClosedAddress)
      return { kind: 'refused', answer: sendAnswer('webhook-address-closed', { host: posted.host }) };
    const { status, retryAfter } = posted;
    const answer = sendAnswer('answered', { status });
    if (status >= 200 && status < 300) return { kind: 'delivered', answer };
    if (status === 408 || status === 429 || status >= 500)
      return { kind: 'retry', answer, retryAfterMillis: retryAfterMillis(retryAfter, at) };
    return { kind: 'refused', answer };
  };
}
