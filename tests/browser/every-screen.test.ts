// Every screen in a real Chromium: accessible in both themes on a desk and on a phone, and no wider than a small phone.
// They only read, so one lab serves them all.

import { createRequire } from 'node:module';
import type { Browser, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { startBrowser } from './browser.ts';
import { type BuiltScreens, fillLab, fillRecords, openScreens } from './built-screens.ts';
import { type Opened, openScreen } from './open-screen.ts';
import { isForManager, PLACES } from './places.ts';

const axePath = createRequire(import.meta.url).resolve('axe-core/axe.min.js');
const DESK = { width: 1440, height: 900 };
const PHONE = { width: 390, height: 844 };
const SMALL_PHONE = { width: 320, height: 640 };

let browser: Browser;
let screens: BuiltScreens;
let manager: string;
beforeAll(async () => {
  browser = await startBrowser();
  screens = await openScreens();
  await fillLab(screens, 6);
  await fillRecords(screens);
  manager = (await screens.manager()).cookie;
  await screens.lab.measure('pot-1-a', 128.4);
  screens.lab.raise('over-ceiling', 'pot-1');
});
afterEach(() => Promise.all(browser.contexts().map((context) => context.close())));
afterAll(async () => {
  await browser?.close();
  await screens?.close();
});

const open = (path: string, opened: Opened): Promise<Page> =>
  openScreen(browser, screens.address, path, { ...opened, ...(isForManager(path) && { cookie: manager }) });

const faults = async (page: Page): Promise<readonly string[]> => {
  const found: unknown = await page.evaluate(
    "axe.run({ resultTypes: ['violations'] }).then((result) => result.violations.map((one) => one.id + ': ' + one.nodes[0].html))",
  );
  return found as readonly string[];
};

describe('every screen', () => {
  it.each(PLACES)('%s passes axe on a desk and on a phone, dark and light', async (path) => {
    const page = await open(path, { bypassCSP: true });
    await page.addScriptTag({ path: axePath });
    for (const size of [DESK, PHONE])
      for (const colorScheme of ['dark', 'light'] as const) {
        await page.setViewportSize(size);
        await page.emulateMedia({ colorScheme });
        expect(await faults(page), `${size.width} ${colorScheme}`).toEqual([]);
      }
  });

  it.each(PLACES)(
    '%s fits the width of a small phone, which is a desk magnified four times',
    async (path) => {
      const page = await open(path, { size: SMALL_PHONE });
      expect(await page.evaluate('document.documentElement.scrollWidth')).toBeLessThanOrEqual(
        SMALL_PHONE.width,
      );
    },
  );
});
