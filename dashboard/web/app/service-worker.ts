// Wakes when a push comes: shows it, acknowledges from its button, reports a test back, and subscribes anew when the
// push service changes the subscription. What opens without a network is the matter of offline-shell.ts.

import type { PushPayload } from '../../../alerts/notices/channels/push-payload.ts';
import { dropOldShells, keepShell } from './offline-shell.ts';

declare const self: ServiceWorkerGlobalScope;

/** Typed by the browsers' own libraries only in part. */
interface ShownOptions extends NotificationOptions {
  readonly actions?: readonly { readonly action: string; readonly title: string }[];
  readonly renotify?: boolean;
}

const ICON = '/icon-192.png';

const post = (path: string, body: object): Promise<Response> =>
  fetch(path, {
    method: 'POST',
    credentials: 'same-origin',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify(body),
  });

/** A push that shows nothing can cost the subscription, so even a garbled one shows the name. */
const payloadOf = (event: PushEvent): PushPayload => {
  try {
    return event.data?.json() as PushPayload;
  } catch {
    return { kind: 'raised', title: 'Waxwarden', body: '', tag: 'garbled', url: '/phone', stays: true };
  }
};

const show = async (payload: PushPayload): Promise<void> => {
  const { kind, title, body, tag, stays, replaces = [], acknowledge, test } = payload;
  // A notice that a part is over leaves the rest standing and makes no noise.
  const calls = stays && (kind === 'raised' || kind === 'still-open');
  const options: ShownOptions = {
    body,
    tag,
    icon: ICON,
    badge: ICON,
    requireInteraction: stays,
    renotify: calls,
    silent: !calls && test === undefined,
    data: payload,
    ...(acknowledge && { actions: [{ action: 'acknowledge', title: acknowledge.label }] }),
  };
  await self.registration.showNotification(title, options);
  for (const tag of replaces)
    for (const older of await self.registration.getNotifications({ tag })) older.close();
  if (test !== undefined) await post('/api/push/shown', { test });
};

const acknowledge = async (payload: PushPayload): Promise<void> => {
  if (payload.acknowledge === undefined) return;
  const { token, failed } = payload.acknowledge;
  const answer = await post('/api/acknowledge-by-link', { token }).catch(() => null);
  if (answer?.ok) return;
  const { acknowledge: _, ...rest } = payload;
  await show({ ...rest, body: `${failed}\n${payload.body}`, stays: true });
};

const open = async (url: string): Promise<void> => {
  const pages = await self.clients.matchAll({ type: 'window' });
  const page = pages.find((page) => new URL(page.url).pathname === url) ?? pages[0];
  if (page === undefined) await self.clients.openWindow(url);
  else {
    await page.focus();
    if (new URL(page.url).pathname !== url) await page.navigate(url).catch(() => null);
  }
};

const subscribeAgain = async (old: PushSubscription | null): Promise<void> => {
  const { key } = (await (await fetch('/api/push/key', { credentials: 'same-origin' })).json()) as {
    key: string;
  };
  const fresh = await self.registration.pushManager.subscribe({
    userVisibleOnly: true,
    applicationServerKey: key,
  });
  const { endpoint, keys } = fresh.toJSON();
  await post('/api/push/subscriptions', { endpoint, keys, ...(old && { replaces: old.endpoint }) });
};

self.addEventListener('install', (event) => {
  void self.skipWaiting();
  event.waitUntil(keepShell(event));
});
self.addEventListener('activate', (event) =>
  event.waitUntil(Promise.all([self.clients.claim(), dropOldShells(event)])),
);
self.addEventListener('push', (event) => event.waitUntil(show(payloadOf(event))));
self.addEventListener('notificationclick', (event) => {
  const payload = event.notification.data as PushPayload;
  event.notification.close();
  event.waitUntil(event.action === 'acknowledge' ? acknowledge(payload) : open(payload.url));
});
self.addEventListener('pushsubscriptionchange', (event) => {
  const { oldSubscription = null } = event as ExtendableEvent & { oldSubscription?: PushSubscription | null };
  (event as ExtendableEvent).waitUntil(subscribeAgain(oldSubscription));
});
