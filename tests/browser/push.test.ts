// A push the whole way: the alarm, the real sender, a push service that decrypts, the real service worker of the page,
// the notification, its button, and the state on the wall. Only `pushManager.subscribe` is replaced, in the page and in
// the worker: it would call a push service outside.

import type { Browser, BrowserContext, CDPSession, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { epochMillis } from '../../wax/units.ts';
import { until } from '../integration/until.ts';
import { type PushService, type Received, startPushService } from '../push-service.ts';
import { PASSWORDS } from '../server-for-tests.ts';
import { startBrowser } from './browser.ts';
import { type BuiltScreens, fillLab, openScreens } from './built-screens.ts';

let service: PushService;
let screens: BuiltScreens;
let browser: Browser;
let context: BrowserContext;
let page: Page;
let devTools: CDPSession;
let registration: string;

const runDue = () => screens.lab.running.notices.runDue();
/** Hands what the push service decrypted to the service worker, as the browser would. */
const deliver = async ({ payload }: Received): Promise<void> => {
  await devTools.send('ServiceWorker.deliverPushMessage', {
    origin: screens.address,
    registrationId: registration,
    data: JSON.stringify(payload),
  });
};
const worker = () => until(() => context.serviceWorkers()[0]);
interface Shown {
  readonly title: string;
  readonly body: string;
  readonly tag: string;
  readonly actions: readonly string[];
}
const shown = (): Promise<readonly Shown[]> =>
  page.evaluate(`navigator.serviceWorker.ready.then((worker) => worker.getNotifications()).then((all) =>
    all.map(({ title, body, tag, actions = [] }) => ({ title, body, tag, actions: actions.map(({ action }) => action) })))`);
/**
 * Makes the worker count what it has shown. Asking Chromium for its notifications while one is being shown drops that
 * one from its list (it is not on display yet), so they are asked for only after the worker is through.
 */
const countShown = async (): Promise<void> => {
  await (await worker()).evaluate(`(() => {
    self.shownCounts = {};
    const show = registration.showNotification.bind(registration);
    registration.showNotification = async (title, options) => {
      await show(title, options);
      self.shownCounts[options.tag] = (self.shownCounts[options.tag] ?? 0) + 1;
    };
  })()`);
};
/** What is on the phone once the worker has shown `tag` so many times. */
const shownAfter = async (tag: string, times: number): Promise<readonly Shown[]> => {
  await until(async () =>
    (await worker()).evaluate(`(self.shownCounts[${JSON.stringify(tag)}] ?? 0) >= ${times}`),
  );
  return (await shown()).filter((each) => each.tag === tag);
};
/** How the pot and the line at the foot of the wall are drawn. */
const attention = async (wall: Page) => ({
  station: await wall.locator('.wall-station', { hasText: 'Melt pot 1' }).getAttribute('data-attention'),
  foot: await wall.locator('.hands').getAttribute('data-standing'),
});
/** What the system does when a person presses a button of a notification. */
const press = async (tag: string, action: string): Promise<void> => {
  await (
    await worker()
  ).evaluate(`registration.getNotifications({ tag: ${JSON.stringify(tag)} }).then(([notification]) => {
    self.dispatchEvent(new NotificationEvent('notificationclick', { notification, action: ${JSON.stringify(action)} }));
  })`);
};

describe('a phone that is subscribed', () => {
  beforeAll(async () => {
    service = await startPushService();
    screens = await openScreens({ demo: false, pushHosts: [service.host], pushAgent: service.agent });
    const manager = await screens.manager();
    expect(manager.cookie).not.toBe('');
    // That all is in order is shown only with live data from every station.
    await fillLab(screens, 2);
    browser = await startBrowser({ isWhole: true });
    context = await browser.newContext({ viewport: { width: 390, height: 844 }, locale: 'en-GB' });
    await context.grantPermissions(['notifications'], { origin: screens.address });
    const subscription = service.subscribe();
    await context.addInitScript(`if ('PushManager' in window)
      PushManager.prototype.subscribe = async () => ({ toJSON: () => (${JSON.stringify(subscription)}) });`);
    page = await context.newPage();
    devTools = await context.newCDPSession(page);
    devTools.on('ServiceWorker.workerRegistrationUpdated', ({ registrations }) => {
      registration = registrations[0]?.registrationId ?? registration;
    });
    await devTools.send('ServiceWorker.enable');
    await page.goto(`${screens.address}/sign-in?to=/phone`);
    await page.getByRole('textbox', { name: 'Name' }).fill('Mara');
    await page.getByLabel('Password').fill(PASSWORDS.manager);
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { name: 'Alarms on this phone' }).waitFor();
    await countShown();
  });
  afterAll(async () => {
    await browser?.close();
    await screens?.close();
    await service?.close();
  });

  it('explains its purpose before the browser asks for permission, and subscribes on a tap', async () => {
    await page.getByText('Only when an alarm needs you').waitFor();
    expect(screens.lab.running.notices.subscriptions.all()).toEqual([]);
    await page.getByRole('button', { name: 'Send alarms to this phone' }).click();
    await page.getByText('This phone receives the alarms of Mara.').waitFor();
    expect(screens.lab.running.notices.subscriptions.all()).toHaveLength(1);
  });

  it('confirms a test notification once the phone reports that it was shown', async () => {
    await page.getByRole('button', { name: 'Send a test' }).click();
    const test = await until(async () => {
      await runDue();
      return service.received.find(({ payload }) => payload.kind === 'test');
    });
    screens.lab.pass(1);
    await deliver(test);
    await page.getByText(/Notifications work\.$/).waitFor();
    expect(screens.lab.running.notices.subscriptions.all()[0]?.testedAt).not.toBeNull();
  });

  it('shows an alarm with what to do, and acknowledges it from the notification without opening a page', async () => {
    const [wall, alarms] = [await context.newPage(), await context.newPage()];
    await wall.setViewportSize({ width: 1920, height: 1080 });
    await wall.goto(`${screens.address}/wall`);
    await wall.getByText('All in order').waitFor();
    await alarms.goto(`${screens.address}/alarms`);
    const alarm = screens.lab.raise('over-ceiling', 'pot-1');
    await alarms.getByRole('button', { name: 'Acknowledge' }).waitFor();
    const tile = wall.locator('.wall-station', { hasText: 'Melt pot 1' });
    await tile.getByText('Over ceiling').waitFor();
    await tile.getByText('Turn it down or off').waitFor();
    expect(await attention(wall)).toEqual({ station: 'unacknowledged', foot: 'alarms' });
    await runDue();
    const push = await until(() => service.received.find(({ payload }) => payload.tag === alarm.id));
    await deliver(push);
    const [notification] = await shownAfter(alarm.id, 1);
    expect(notification?.title).toBe('High priority: Melt pot 1');
    expect(notification?.body).toContain('Turn the heater down or off at its own switch');
    expect(notification?.actions).toEqual(['acknowledge']);
    await press(alarm.id, 'acknowledge');
    await alarms
      .getByText(/Acknowledged by Mara/)
      .first()
      .waitFor();
    await tile.getByText('Over ceiling: acknowledged by Mara').waitFor();
    expect((await attention(wall)).station).toBe('acknowledged');
    expect(screens.lab.running.alarm(alarm.id)).toMatchObject({ acknowledged: true, acknowledgedBy: 'Mara' });
    expect((await shown()).map(({ tag }) => tag)).not.toContain(alarm.id);
    await wall.close();
    await alarms.close();
  });

  it('has the wall announce that nobody is notified when there is none, beside what to do', async () => {
    const wall = await context.newPage();
    await wall.setViewportSize({ width: 1920, height: 1080 });
    await wall.goto(`${screens.address}/wall`);
    const nobody = screens.lab.raise('nobody-subscribed', 'site').id;
    await wall.locator('.alarm-word', { hasText: 'Nobody reached' }).waitFor();
    await wall.locator('.advice', { hasText: 'Inform person on duty' }).waitFor();
    screens.lab.pass(1);
    const { id } = screens.lab.raise('runaway', 'pot-1');
    await wall.locator('.alarm-word', { hasText: 'Runaway heat' }).waitFor();
    await wall.locator('.advice', { hasText: 'If still rising, turn off' }).waitFor();
    await wall.locator('.alarm-word', { hasText: 'Nobody reached' }).waitFor();
    for (const alarm of [nobody, id])
      screens.lab.step(alarm, { type: 'ends', at: screens.lab.running.now() });
    await wall.locator('.alarm-word').first().waitFor({ state: 'detached' });
    await wall.close();
  });

  it('shows only the newest notification of an alarm', async () => {
    const { id } = screens.lab.raise('left-on', 'pot-1');
    await runDue();
    await deliver(await until(() => service.received.find(({ payload }) => payload.tag === id)));
    expect(await shownAfter(id, 1)).toHaveLength(1);
    screens.lab.pass(60);
    screens.lab.step(id, { type: 'ends', at: screens.lab.running.now() });
    await runDue();
    const over = await until(() =>
      service.received.find(({ payload }) => payload.tag === id && payload.kind === 'cleared'),
    );
    await deliver(over);
    const now = await shownAfter(id, 2);
    expect(now).toHaveLength(1);
    expect(now[0]?.title).toBe('Over: Melt pot 1');
    expect(now[0]?.actions).toEqual([]);
  });

  it('replaces the notification silently when its alarm is shelved', async () => {
    const alarm = screens.lab.raise('low-pot', 'pot-1');
    await runDue();
    await deliver(await until(() => service.received.find(({ payload }) => payload.tag === alarm.id)));
    expect(await shownAfter(alarm.id, 1)).toHaveLength(1);
    const at = screens.lab.running.now();
    const act = {
      type: 'shelve',
      alarm: alarm.id,
      by: 'Mara',
      until: epochMillis(at + 3_600_000),
      reason: 'being filled',
    } as const;
    screens.lab.step(alarm.id, { type: 'act', at, act });
    await runDue();
    const aside = await until(() => service.received.find(({ payload }) => payload.kind === 'put-aside'));
    expect(aside.payload).toMatchObject({ tag: alarm.id, stays: false });
    expect(aside.headers.urgency).toBe('normal');
    await deliver(aside);
    const now = await shownAfter(alarm.id, 2);
    expect(now).toHaveLength(1);
    expect(now[0]?.title).toMatch(/^Shelved by Mara until \d\d:\d\d: Melt pot 1$/);
    expect(now[0]?.actions).toEqual([]);
  });

  it('shows on the notification that acknowledging failed', async () => {
    const alarm = screens.lab.raise('no-heat', 'pot-1');
    await runDue();
    const push = await until(() => service.received.find(({ payload }) => payload.tag === alarm.id));
    screens.lab.pass(5 * 3600);
    await deliver(push);
    expect(await shownAfter(alarm.id, 1)).toHaveLength(1);
    await press(alarm.id, 'acknowledge');
    const [refused] = await shownAfter(alarm.id, 2);
    expect(refused?.body).toContain('Not acknowledged');
    expect(refused?.actions).toEqual([]);
    expect(screens.lab.running.alarm(alarm.id)?.acknowledged).toBe(false);
  });

  it('stays subscribed under its name when the push service changes its subscription', async () => {
    const { subscriptions } = screens.lab.running.notices;
    const [before] = subscriptions.all();
    const fresh = service.subscribe();
    await (await worker()).evaluate(`(() => {
      registration.pushManager.subscribe = async () => ({ toJSON: () => (${JSON.stringify(fresh)}) });
      const change = new ExtendableEvent('pushsubscriptionchange');
      change.oldSubscription = { endpoint: ${JSON.stringify(before?.endpoint)} };
      self.dispatchEvent(change);
    })()`);
    await until(() => subscriptions.all().every(({ endpoint }) => endpoint === fresh.endpoint));
    expect(before?.name).not.toBe('');
    expect(subscriptions.all()).toMatchObject([{ ...fresh, person: before?.person, name: before?.name }]);
    const alarm = screens.lab.raise('runaway', 'pot-1');
    await runDue();
    const push = await until(() => service.received.find(({ payload }) => payload.tag === alarm.id));
    expect(push.endpoint).toBe(fresh.endpoint);
  });
});
