// The phone's page without a network: opened cold from what the real service worker kept, last known and not live, an
// act that waits and is sent once, nothing of a person left after signing out, and never an old page while the server
// answers.

import type { BrowserContext, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { celsius, epochMillis } from '../../wax/units.ts';
import { until } from '../integration/until.ts';
import { PASSWORDS } from '../server-for-tests.ts';
import { closeContexts, sharedBrowser } from './browser.ts';
import { type BuiltScreens, fillLab, openScreens } from './built-screens.ts';

let screens: BuiltScreens;
const browser = await sharedBrowser();
let context: BrowserContext;

const open = async (path: string): Promise<Page> => {
  const page = await context.newPage();
  await page.goto(screens.address + path);
  return page;
};
const cachedPaths = (page: Page): Promise<readonly string[]> =>
  page.evaluate(`caches.keys().then((names) => Promise.all(names.map((name) => caches.open(name).then((cache) => cache.keys()))))
    .then((all) => all.flat().map(({ url }) => new URL(url).pathname))`);
const hasShell = (page: Page) => until(async () => (await cachedPaths(page)).length > 20);
const measureNow = () =>
  screens.lab.stand({
    station: 'pot-1',
    celsius: celsius(128.4),
    at: epochMillis(screens.lab.running.now()),
    condition: 'over-ceiling',
  });
const signIn = async (): Promise<Page> => {
  const page = await open('/sign-in?to=/phone');
  await page.getByRole('textbox', { name: 'Name' }).fill('Mara');
  await page.getByLabel('Password').fill(PASSWORDS.manager);
  await page.keyboard.press('Enter');
  await page.getByRole('heading', { name: 'Alarms on this phone' }).waitFor();
  return page;
};
/** Marks the page that the worker keeps, so that it differs from the server's. */
const markKeptPage = (page: Page) =>
  page.evaluate(`caches.open('waxwarden-shell').then(async (cache) => {
    const page = (await cache.keys()).find(({ url }) => new URL(url).pathname === '/');
    const text = await (await cache.match(page)).text();
    await cache.put(page, new Response(text.replace('<body>', '<body data-kept>'), { headers: { 'content-type': 'text/html' } }));
  })`);
const isKeptPage = (page: Page) => page.locator('body[data-kept]').count();

beforeAll(async () => {
  screens = await openScreens({ demo: false });
  await screens.manager();
  // That there is nothing to do is shown only with live data from every station.
  await fillLab(screens, 2);
  context = await browser.newContext({ viewport: { width: 390, height: 844 }, locale: 'en-GB' });
});
afterEach(() => screens.mend());
afterAll(async () => {
  await closeContexts(browser);
  await screens?.close();
});

describe('the phone page without a network', () => {
  it('caches the built page, deletes an older one, and caches no answer of the lab', async () => {
    const before = await open('/sign-in');
    await before.evaluate(
      "caches.open('waxwarden-shell-older').then((cache) => cache.put('/older', new Response('older')))",
    );
    await before.close();
    const page = await signIn();
    await hasShell(page);
    await until(async () => !(await cachedPaths(page)).includes('/older'));
    const paths = await cachedPaths(page);
    expect(paths).toContain('/');
    expect(paths.filter((path) => path !== '/' && !path.startsWith('/assets/'))).toEqual([]);
    await page.getByText('Nothing to do right now.').waitFor();
    screens.leave();
    await page.getByText('There was nothing to do when the lab last reported.').waitFor();
    screens.mend();
    await page.getByText('Nothing to do right now.').waitFor();
    measureNow();
    screens.lab.raise('over-ceiling', 'pot-1');
    await page.getByRole('heading', { name: /^Melt pot 1\s*: Over ceiling$/ }).waitFor();
    await page.getByText('128.4').first().waitFor();
    // While the page is still open: a phone that is switched off sends nothing before it goes.
    expect(await page.evaluate("localStorage.getItem('waxwarden.last-known')")).toContain('over-ceiling');
    await page.close();
  });

  it('opens cold, shows that there is no connection and how old its values are, and shows none as live', async () => {
    screens.leave();
    const page = await open('/phone');
    await page.locator('.line-note', { hasText: 'Connection lost.' }).waitFor();
    await page.locator('.line-note', { hasText: /The values shown are from \d\d:\d\d:\d\d/ }).waitFor();
    await page.getByRole('heading', { name: /^Melt pot 1\s*: Over ceiling$/ }).waitFor();
    const reading = page.locator('.alarm', { hasText: 'Over ceiling' }).locator('.alarm-now');
    expect(await reading.textContent()).toMatch(/^No data.*was 128\.4\s°C/);
    const row = page.locator('.station-rows li', { hasText: 'Melt pot 1' });
    expect(await row.locator('.station-row-now').textContent()).not.toContain('128.4');
    expect(await row.locator('.station-row-note').textContent()).toMatch(/was 128\.4\s°C/);
    expect(await page.getByRole('heading', { name: 'Alarms on this phone' }).count()).toBe(0);
    await page.close();
  });

  it('shows what was last known as soon as the line fails, without waiting for it to come up', async () => {
    screens.leave();
    const page = await context.newPage();
    // The wait for the line never ends.
    await page.addInitScript(
      'const wait = window.setTimeout; window.setTimeout = (act, millis, ...rest) => millis === 400 ? 0 : wait(act, millis, ...rest)',
    );
    await page.goto(`${screens.address}/phone`);
    await page.locator('.line-note', { hasText: /The values shown are from / }).waitFor();
    await page.close();
  });

  it('keeps an action until the network is back and sends it once', async () => {
    screens.leave();
    const page = await open('/phone');
    await page.getByRole('button', { name: 'Acknowledge' }).click();
    await page.getByRole('heading', { name: 'Waiting to be sent (1)' }).waitFor();
    await page.close();
    const again = await open('/phone');
    await again.getByRole('heading', { name: 'Waiting to be sent (1)' }).waitFor();
    expect(screens.lab.acts).toEqual([]);
    measureNow();
    screens.mend();
    await again.getByRole('heading', { name: /Waiting to be sent/ }).waitFor({ state: 'detached' });
    await again.locator('.line-note').waitFor({ state: 'detached' });
    await again.getByText('128.4').first().waitFor();
    await again.getByRole('heading', { name: 'Alarms on this phone' }).waitFor();
    expect(screens.lab.acts).toMatchObject([{ type: 'acknowledge', by: 'Mara' }]);
    await again.close();
  });

  it.each([
    ['/alarms', 'Alarms'],
    ['/patterns/new', 'New pattern'],
  ])('opens %s', async (path, heading) => {
    screens.leave();
    const page = await open(path);
    await page.getByRole('heading', { name: heading, level: 1 }).waitFor();
    await page.locator('.line-note', { hasText: 'Connection lost.' }).waitFor();
    await page.close();
  });

  it('explains that a screen that is not cached cannot be shown', async () => {
    screens.leave();
    const page = await open('/night');
    await page.getByText('This screen could not be loaded.').waitFor();
    await page.close();
  });

  it('opens from the cache on a network that accepts requests and never answers', async () => {
    screens.pullCable();
    const page = await open('/phone');
    await page.locator('.line-note', { hasText: 'Connection lost.' }).waitFor();
    await page.close();
  });
});

describe('the cached page', () => {
  it('is never shown while the server answers, even when an updated program reloads the screen', async () => {
    const page = await open('/wall');
    await markKeptPage(page);
    await page.reload();
    await page.locator('.wall-station').first().waitFor();
    expect(await isKeptPage(page)).toBe(0);
    await page.evaluate('document.body.dataset.before = "the reload"');
    Object.assign(screens.lab.running, { version: '0.0.1-test' });
    screens.lab.tell({ kind: 'lab' });
    await page.locator('body[data-before]').waitFor({ state: 'detached' });
    await page.locator('.wall-station').first().waitFor();
    expect(await isKeptPage(page)).toBe(0);
    screens.leave();
    await page.goto(`${screens.address}/phone`);
    expect(await isKeptPage(page)).toBe(1);
    await page.close();
  });

  it('shows nothing of the lab after signing out', async () => {
    const page = await open('/settings');
    const stored = () => page.evaluate("localStorage.getItem('waxwarden.last-known')");
    expect(await until(stored)).toContain('Melt pot 1');
    await page.getByRole('button', { name: 'Sign out' }).click();
    await page.getByRole('textbox', { name: 'Name' }).waitFor();
    await page.close();
    screens.leave();
    const cold = await open('/phone');
    await cold.getByText("The lab's server does not answer.").waitFor();
    expect(await cold.evaluate("localStorage.getItem('waxwarden.last-known')")).toBeNull();
    expect(await cold.getByText('Melt pot 1').count()).toBe(0);
    await cold.close();
  });
});
