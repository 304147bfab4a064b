// This phone: what it is capable of, its subscription to alarms, the test of a notification. It calls the browser and
// the server; nothing is drawn here.

import { signal } from '@preact/signals';
import type { SubscriptionView } from '../../../api/phones.ts';
import { sendRemoval, read, send, type Trouble } from '../../base/api.ts';
import { session } from '../../live/session.ts';
import type { PhoneFacts } from './phone-obstacle.ts';

/** As the server has it; null while this phone is not subscribed. */
export const phone = signal<SubscriptionView | null>(null);
export type TestState = 'none' | 'waiting' | 'shown' | 'missing';
export const testState = signal<TestState>('none');
export const phoneTrouble = signal<{ readonly reason: string } | { readonly trouble: Trouble } | null>(null);
const permission = signal<PhoneFacts['permission']>(
  'Notification' in window ? Notification.permission : 'default',
);

/** Typed by no library: the browser's own offer to install. */
interface InstallOffer extends Event {
  readonly prompt: () => Promise<void>;
}
export const installOffer = signal<InstallOffer | null>(null);
addEventListener('beforeinstallprompt', (event) => {
  event.preventDefault();
  installOffer.value = event as InstallOffer;
});
addEventListener('appinstalled', () => {
  installOffer.value = null;
});

const TEST_SECONDS = 30;
const LONGEST_NAME = 80;

/** iPads call themselves Macs, but Macs have no touch. */
const isIos = (): boolean =>
  /iPhone|iPad|iPod/.test(navigator.userAgent) ||
  (/Macintosh/.test(navigator.userAgent) && navigator.maxTouchPoints > 1);

export const phoneFacts = (): PhoneFacts => ({
  isPerson: session.value?.signedIn === true,
  isSecure: isSecureContext,
  isIos: isIos(),
  isOnHomeScreen: matchMedia('(display-mode: standalone), (display-mode: fullscreen)').matches,
  hasWorker: 'serviceWorker' in navigator,
  hasPush: 'PushManager' in window && 'Notification' in window,
  permission: permission.value,
});

const register = async (): Promise<ServiceWorkerRegistration> => {
  await navigator.serviceWorker.register('/service-worker.js', { scope: '/', updateViaCache: 'none' });
  return navigator.serviceWorker.ready;
};

const subscribe = async (subscription: PushSubscription): Promise<void> => {
  const { endpoint, keys } = subscription.toJSON();
  const name = (navigator.userAgent.match(/\(([^;)]+)/)?.[1] ?? '').slice(0, LONGEST_NAME);
  const answer = await send<SubscriptionView[]>('/api/push/subscriptions', { endpoint, keys, name });
  if (!answer.ok) {
    phoneTrouble.value = { trouble: answer.trouble };
    return;
  }
  phoneTrouble.value = null;
  phone.value = answer.value.find((subscribed) => subscribed.endpoint === endpoint) ?? null;
};

/**
 * At each opening: registers the worker, which also keeps the page for when there is no network; sends the subscription
 * that the browser still has once more, so that a server that was set up anew has this phone too.
 */
export const recallPhone = async (): Promise<void> => {
  const facts = phoneFacts();
  if (!facts.isPerson || !facts.hasWorker || !facts.isSecure) return;
  try {
    const worker = await register();
    if (!facts.hasPush) return;
    const subscription = await worker.pushManager.getSubscription();
    if (subscription !== null && facts.permission === 'granted') await subscribe(subscription);
  } catch (error) {
    phoneTrouble.value = { reason: error instanceof Error ? error.message : String(error) };
  }
};

/** On a tap only: the browser shows a question of its own. */
export const subscribePhone = async (): Promise<void> => {
  permission.value = await Notification.requestPermission();
  if (permission.value !== 'granted') return;
  const key = await read<{ key: string }>('/api/push/key');
  if (!key.ok) {
    phoneTrouble.value = { trouble: key.trouble };
    return;
  }
  try {
    const { pushManager } = await register();
    await subscribe(
      await pushManager.subscribe({ userVisibleOnly: true, applicationServerKey: key.value.key }),
    );
  } catch (error) {
    phoneTrouble.value = { reason: error instanceof Error ? error.message : String(error) };
  }
};

export const unsubscribePhone = async (): Promise<void> => {
  const subscribed = phone.value;
  if (subscribed === null) return;
  const answer = await sendRemoval(
    `/api/push/subscriptions?endpoint=${encodeURIComponent(subscribed.endpoint)}`,
  );
  if (!answer.ok && answer.trouble.code !== 'unknown-phone') {
    phoneTrouble.value = { trouble: answer.trouble };
    return;
  }
  phone.value = null;
  testState.value = 'none';
  await (await (await navigator.serviceWorker.ready).pushManager.getSubscription())?.unsubscribe();
};

const pause = (millis: number): Promise<void> => new Promise((done) => setTimeout(done, millis));

/** Sent through the outbox and the push service; done when the phone itself reports that it was shown. */
export const testPhone = async (): Promise<void> => {
  const before = phone.value;
  if (before === null) return;
  testState.value = 'waiting';
  const sent = await send('/api/push/test', { endpoint: before.endpoint });
  if (!sent.ok) {
    testState.value = 'none';
    phoneTrouble.value = { trouble: sent.trouble };
    return;
  }
  for (let second = 0; second < TEST_SECONDS; second += 1) {
    await pause(1000);
    const answer = await read<SubscriptionView[]>('/api/push/subscriptions');
    const current = answer.ok ? answer.value.find(({ endpoint }) => endpoint === before.endpoint) : undefined;
    if (current !== undefined && current.testedAt !== before.testedAt) {
      phone.value = current;
      testState.value = 'shown';
      return;
    }
  }
  testState.value = 'missing';
};
