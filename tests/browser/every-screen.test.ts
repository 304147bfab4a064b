// Every screen in a real Chromium: accessible in both themes on a desk and on a phone, and no wider than a small phone.
// They only read, so one lab serves them all, and one page visits them.

import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { axeFaults } from './axe.ts';
import { closeContexts, openPageFor, sharedBrowser } from './browser.ts';
import { type BuiltScreens, fillLab, fillRecords, openScreens } from './built-screens.ts';
import { type PageWatch, watchPage } from './page-watch.ts';
import { isForManager, PLACES } from './places.ts';

const DESK = { width: 1440, height: 900 };
const PHONE = { width: 390, height: 844 };
const SMALL_PHONE = { width: 320, height: 640 };

interface Visitor {
  readonly page: Page;
  readonly watch: PageWatch;
}

const browser = await sharedBrowser();
let screens: BuiltScreens;
let manager: Visitor;
let nobody: Visitor;

const openVisitor = async (cookie: string): Promise<Visitor> => {
  // The page's own policy rightly refuses the script of axe.
  const page = await openPageFor(browser, screens.address, cookie, { locale: 'en-GB', bypassCSP: true });
  return { page, watch: watchPage(page) };
};

beforeAll(async () => {
  screens = await openScreens();
  await fillLab(screens, 6);
  await fillRecords(screens);
  await screens.lab.measure('pot-1-a', 128.4);
  screens.lab.raise('over-ceiling', 'pot-1');
  manager = await openVisitor((await screens.manager()).cookie);
  nobody = await openVisitor('');
});
afterAll(async () => {
  await closeContexts(browser);
  await screens?.close();
});

describe('every screen', () => {
  // A small phone is also what a desk shows that is magnified four times.
  it.each(PLACES)(
    '%s fits the width of a small phone, and passes axe on a desk and on a phone, dark and light',
    async (path) => {
      const { page, watch } = isForManager(path) ? manager : nobody;
      await page.setViewportSize(SMALL_PHONE);
      await page.emulateMedia({ colorScheme: 'dark' });
      await page.goto(screens.address + path);
      await watch.expectLoaded();
      const width = await page.evaluate('document.documentElement.scrollWidth');
      expect(width).toBeLessThanOrEqual(SMALL_PHONE.width);
      for (const size of [DESK, PHONE])
        for (const colorScheme of ['dark', 'light'] as const) {
          await page.setViewportSize(size);
          await page.emulateMedia({ colorScheme });
          expect(await axeFaults(page), `${size.width} ${colorScheme}`).toEqual([]);
        }
    },
  );
});
