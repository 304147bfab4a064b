// The screens that show the state of stations, before axe in each state that they can be in. `WAXWARDEN_EVERY_SCREEN=1`
// looks at every screen, which takes minutes; `WAXWARDEN_PICTURES=FOLDER` keeps a picture of each.

import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { axeFaults } from './axe.ts';
import { closeContexts, openPageFor, sharedBrowser } from './browser.ts';
import { type BuiltScreens, fillRecords, openScreens } from './built-screens.ts';
import { type PageWatch, watchPage } from './page-watch.ts';
import { PLACES } from './places.ts';
import { standAs, WALL_STATES } from './wall-states.ts';

const SHOWING_STATES = ['/', '/wall', '/phone', '/station/pot-1'];
const { WAXWARDEN_EVERY_SCREEN: every, WAXWARDEN_PICTURES: pictures } = process.env;
const screensAsked = every === undefined ? SHOWING_STATES : PLACES;
const LOOKS = [
  { size: { width: 1440, height: 900 }, colorScheme: 'dark' },
  { size: { width: 390, height: 844 }, colorScheme: 'light' },
] as const;
const STATIONS = 8;
/** The page takes two seconds without a beat for a dead line. */
const LOST_MILLIS = 6000;

const browser = await sharedBrowser();

describe('the screens that show the state of stations', () => {
  let screens: BuiltScreens;
  /** One page goes to every screen of a state: a new one each would only load the same scripts again. */
  let page: Page;
  let watch: PageWatch;
  afterAll(() => closeContexts(browser));

  describe.each(WALL_STATES)('in the state %s', (state) => {
    beforeAll(async () => {
      screens = await openScreens();
      await fillRecords(screens);
      const { cookie } = await screens.manager();
      standAs(screens.lab, state, STATIONS);
      // The page's own policy rightly refuses the script of axe.
      page = await openPageFor(browser, screens.address, cookie, { locale: 'en-GB', bypassCSP: true });
      if (state === 'line lost') await page.clock.install();
      watch = watchPage(page);
    });
    afterAll(async () => {
      await closeContexts(browser);
      await screens.close();
    });

    it.each(screensAsked)('%s passes axe', async (path) => {
      await page.setViewportSize(LOOKS[0].size);
      await page.emulateMedia({ colorScheme: LOOKS[0].colorScheme });
      await page.goto(screens.address + path);
      await watch.expectLoaded();
      if (state === 'line lost') {
        screens.pullCable();
        await page.clock.runFor(LOST_MILLIS);
      }
      const found: Record<string, readonly string[]> = {};
      for (const { size, colorScheme } of LOOKS) {
        await page.setViewportSize(size);
        await page.emulateMedia({ colorScheme });
        if (pictures !== undefined)
          await page.screenshot({
            path: join(pictures, `${state}${path}`.replaceAll(/[ /?]/g, '-').concat(`-${size.width}.png`)),
            fullPage: path !== '/wall',
          });
        found[colorScheme] = await axeFaults(page);
      }
      if (state === 'line lost') screens.mend();
      expect(found).toEqual({ dark: [], light: [] });
    });
  });
});
