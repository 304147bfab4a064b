// The month beside the months before it, in a real Chromium: worked out only when it is asked for, and read on paper too.

import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { closeContexts, openPageFor, sharedBrowser } from './browser.ts';
import { type BuiltScreens, fillRecords, openScreens } from './built-screens.ts';

const browser = await sharedBrowser();
let screens: BuiltScreens;
let cookie: string;
beforeAll(async () => {
  screens = await openScreens();
  await fillRecords(screens);
  ({ cookie } = await screens.manager());
});
afterAll(async () => {
  await closeContexts(browser);
  await screens?.close();
});

const openMonth = async (locale: string, width: number): Promise<Page> => {
  const page = await openPageFor(browser, screens.address, cookie, {
    locale,
    viewport: { width, height: 900 },
  });
  await page.goto(`${screens.address}/month`);
  await page.locator('.sheet h1').waitFor();
  return page;
};

describe('the comparison with the months before', () => {
  it('shows six months once it is opened, and loads none before', async () => {
    const page = await openMonth('en-GB', 1280);
    const asked: string[] = [];
    page.on('request', (request) => {
      if (request.url().includes('/api/month')) asked.push(new URL(request.url()).search);
    });
    const trend = page.locator('details', { hasText: 'Compare with the months before' });
    expect(await trend.locator('tbody tr').count()).toBe(1);
    expect(asked).toEqual([]);
    await trend.locator('summary').click();
    await trend.locator('tbody tr').nth(5).waitFor();
    expect(asked).toHaveLength(5);
    const [shown] = await trend.locator('tbody tr').all();
    // The shelf of the recorded day moves by 4 °C, of which a night has a part.
    expect(await shown?.locator('td').first().textContent()).toMatch(/^[1-4]\.\d\s°C$/);
    expect(await trend.locator('tbody tr').last().locator('td').first().textContent()).toBe('–');
    await page.emulateMedia({ media: 'print' });
    expect(await trend.locator('tbody tr').last().isVisible()).toBe(true);
  });

  it('is no wider than a small phone in German', async () => {
    const page = await openMonth('de-DE', 320);
    await page.getByText('Mit den Monaten davor vergleichen').click();
    await page.getByText('Störalarme:').last().waitFor();
    expect(await page.evaluate('document.documentElement.scrollWidth')).toBeLessThanOrEqual(320);
  });
});
