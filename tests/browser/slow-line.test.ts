// A slow line: what is on its way is named, and nothing stands in for it.

import type { Browser, Route } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { closeContexts, openPageFor, sharedBrowser } from './browser.ts';
import { type BuiltScreens, fillLab, openScreens } from './built-screens.ts';

let browser: Browser;
let screens: BuiltScreens;
let cookie: string;

beforeAll(async () => {
  browser = await sharedBrowser();
  screens = await openScreens();
  await fillLab(screens, 4);
  ({ cookie } = await screens.manager());
});
afterAll(async () => {
  await closeContexts(browser);
  await screens?.close();
});

const open = async () => {
  const page = await openPageFor(browser, screens.address, cookie, {
    locale: 'en-GB',
    serviceWorkers: 'block',
    viewport: { width: 1280, height: 900 },
  });
  await page.goto(`${screens.address}/probes`);
  await page.locator('h1').waitFor();
  return page;
};

describe('a screen on a slow line', () => {
  it('is named as on its way until its script is there', async () => {
    const page = await open();
    await page.route('**/assets/**', () => undefined);
    await page.getByRole('link', { name: 'Charges', exact: true }).click();
    await page.locator('.loading-note').getByText('Loading…').waitFor();
    // What is held goes on with it.
    await page.unroute('**/assets/**');
    await page.getByRole('heading', { name: 'Charges', exact: true }).waitFor();
    await page.locator('.loading-note').waitFor({ state: 'detached' });
  });

  it('shows no pot as without wax before the charges are known', async () => {
    const page = await open();
    const held: Route[] = [];
    await page.route('**/api/charges', (route) => void held.push(route));
    await page.getByRole('link', { name: 'Charges', exact: true }).click();
    await page.getByRole('status').filter({ hasText: 'Loading…' }).waitFor();
    expect(await page.locator('main .row a.act').allTextContents()).toEqual(['Wax lots']);
    await Promise.all(held.map((route) => route.continue()));
    await page.getByText('No wax charge is recorded yet.').waitFor();
    expect(await page.locator('main .row a.act').count()).toBeGreaterThan(1);
  });
});
